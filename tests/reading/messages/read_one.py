"""What the tests of messages share: the one route of a text, its account, a message written from values."""

import datetime as dt

from routecheck.model import Use, off_block_time, parts_of_use
from routecheck.reading.inputs import read_input


def read_all(text, name="message.txt"):
    return list(read_input(text.encode("utf-8", "surrogatepass"), name))


def read_one(text):
    (route_input,) = read_all(text)
    return route_input


def stretches(route_input, *uses):
    """What the parts put to these uses say, in order."""
    pasted = route_input.pasted
    return [pasted.text[part.span.start : part.span.end] for part in parts_of_use(pasted.parts, *uses)]


def unread(route_input):
    return stretches(route_input, Use.UNREAD)


def hours(minutes):
    return f"{int(minutes) // 60:02}{int(minutes) % 60:02}"


def write_message(given):
    """A filed flight plan with the values of a RouteInput in its items, as Doc 4444 Appendix 3 lays it out."""
    totals = given.stated_totals
    departs = off_block_time(given.off_block)
    departs = dt.time(14) if departs is None else departs
    of_18 = [f"PBN/{given.pbn}"] if given.pbn else []
    of_18 += [f"DOF/{given.date:%y%m%d}"] if given.date else []
    for indicator, times in (("EET", given.elapsed), ("DLE", given.delays)):
        of_18 += [f"{indicator}/{' '.join(f'{one.at}{hours(one.time_min)}' for one in times)}"] if times else []
    arrival = [f"{given.destination}{hours(totals.time_min) if totals and totals.time_min is not None else ''}"]
    fields = [
        f"FPL-{given.name}-{given.rules}S",
        f"-B738/M-{given.equipment}/LB1",
        f"-{given.departure}{departs:%H%M}",
        f"-{given.route}",
        f"-{' '.join([*arrival, *given.alternate])}",
        f"-{' '.join(of_18) or 0}",
    ]
    if totals and totals.endurance_min is not None:
        fields.append(f"-E/{hours(totals.endurance_min)} P/TBN")
    return "(" + "\n".join(fields) + ")"
