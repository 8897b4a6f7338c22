"""The words of a resolved route: all in order, and the route point of one of them. No tests here."""


def idents(route):
    return [point.text for point in route.points]


def point_named(resolved, text):
    return next(route_point for route_point in resolved.route_points if route_point.text == text)
