"""Navigation data: records come in; places, airways, procedures, runways and minima are asked for."""
