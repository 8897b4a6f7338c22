"""The words of a resolved route: all in order, and the stop of one of them. No tests here."""


def idents(route):
    return [point.text for point in route.points]


def stop_named(resolved, text):
    return next(stop for stop in resolved.stops if stop.text == text)
