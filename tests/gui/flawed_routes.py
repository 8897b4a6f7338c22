"""Routes of the demo region with one entry error beside the text."""

from routecheck.model import AltitudeWindow, RouteInput

NOT_SERVED = RouteInput("ULDET1 ULDET UN21 TIBOK TIBOK1", "XVAL", "XVOR", departure_runway="09")
A_TENTH = RouteInput(
    "LENDU1 LENDU UM12 TOVIK DCT SARNO SARNO2",
    "XVAL",
    "XVOR",
    level="F350",
    windows=(AltitudeWindow("KEBUL", 1_100.0),),
)
