"""Navigation data: records in, places, airways, procedure names and runways out."""
