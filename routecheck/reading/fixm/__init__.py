"""FIXM 4 flight plans (open standard, XML) to RouteInputs: safe reading of XML, route elements, the flight."""
