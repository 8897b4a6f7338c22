"""The cautions every result, screen and sheet carries."""

CAUTION = "Cross-check only. Not for navigation."
CAUTION_IN_FULL = (
    "A cross-check aid only, not for navigation: current charts, data, operating manuals, local regulations and "
    "licensed crew and dispatch judgement decide."
)
NOT_LOOKED_AT = (
    "weather, NOTAM, QNH (flight levels and altitudes are compared as at 1013 hPa), airspace and overflight, take-off "
    "and landing performance, extended-range and equipment rules"
)
