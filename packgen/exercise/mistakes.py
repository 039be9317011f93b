"""Usual mistakes by their codes: what the pupil did, and the one sentence that helps.

W1 to W24 are the trade's, W25 on are ours. A sentence says first what was right or understandable, then one pointer;
it never says "wrong" and never the number. How each mistake's value comes about stands beside the right way, in the
modules `ways_*`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

HALF, NONE = 0.5, 0.0


@dataclass(frozen=True, slots=True)
class Mistake:
    """A usual mistake. method: share of the method marks that the way still earns."""

    code: str
    name: str
    did: str
    says: str
    method: float


def _m(code: str, name: str, did: str, says: str, method: float = HALF) -> Mistake:
    return Mistake(code, name, did, says, method)


MISTAKES: Mapping[str, Mistake] = {
    m.code: m
    for m in (
        _m(
            "W1",
            "sign of the reading",
            "took the bigger reading for the higher floor",
            "The two figures you took are the right ones. Hold the staff in your mind: the more you read, the "
            "further the floor lies below the line.",
            NONE,
        ),
        _m(
            "W2",
            "old collimation",
            "hung readings of a later set-up from the first set-up's line",
            "Your arithmetic is right. The laser had been moved: look which line each reading hangs from.",
        ),
        _m(
            "W3",
            "correction the other way",
            "added the misclosure where it is taken off",
            "Good that you closed the book and shared the misclosure. Too high at the end means take off; too low "
            "means add.",
        ),
        _m(
            "W4",
            "all of it to each",
            "gave each set-up the whole correction",
            "You know that the misclosure must go. Share it along the way: each set-up takes its part, and only the "
            "last one all of it.",
        ),
        _m(
            "W5",
            "finish forgotten",
            "took the finished level for the rail top",
            "The finished level is where you start, and you found it. Something still lies between it and the rail: "
            "which layers?",
            NONE,
        ),
        _m(
            "W6",
            "board forgotten",
            "left the board out of the finish",
            "You took the covering off, good. Count all layers above the rail, also the one you will not see.",
        ),
        _m(
            "W7",
            "added instead of taken off",
            "went up from the finished level instead of down",
            "You added up the layers rightly. Draw it: does the rail lie above or below the covering?",
        ),
        _m(
            "W8",
            "underside of the rail",
            "took the rail's height off the leg",
            "You thought of the rail, good. Our legs are measured to its top, so it is in the length already.",
        ),
        _m(
            "W9",
            "target taken off",
            "went up the staff instead of down",
            "Backsight and rail top are the right two figures. Check in your mind: a lower rail gives a bigger "
            "reading.",
        ),
        _m(
            "W10",
            "leg as target",
            "added the leg to the backsight",
            "Starting from today's backsight is right. The leg is for choosing parts; the reading needs how far the "
            "rail top lies below the datum.",
            NONE,
        ),
        _m(
            "W11",
            "old backsight",
            "used the backsight of the survey",
            "You would be right if the laser stood where it stood then. Which backsight was read today?",
        ),
        _m(
            "W12",
            "mean of the extremes",
            "took the middle of highest and lowest for the mean",
            "You took a mean, and that is the right idea. One deep hole must not order bags for the whole floor: use "
            "the mean over the area.",
            NONE,
        ),
        _m(
            "W13",
            "mean of the spots",
            "took the plain mean of the readings for the mean over the area",
            "Close, and the right idea. Edge bays are smaller, so their spots count less.",
        ),
        _m(
            "W14",
            "thousand times off",
            "took mm times m² for m³",
            "Area times depth is right. Look at the units: one mm on one m² is one litre.",
        ),
        _m(
            "W15",
            "bags rounded down",
            "rounded the bags down",
            "Dividing by the bag is right. Would the last part of a bag be missing at the end of the day?",
        ),
        _m(
            "W16",
            "bags bay by bay",
            "rounded up in each bay",
            "You make sure that no bay runs short. What is left over in one bay goes into the next, so round once a "
            "pour.",
        ),
        _m(
            "W17",
            "waste left out",
            "left the waste out, or divided by it",
            "You allowed for the fill itself. Some stays in the bucket: multiply what you need by one plus the waste.",
        ),
        _m(
            "W18",
            "settling forgotten",
            "left out that the fill settles",
            "You allowed for the waste, good. Loose fill goes down when it is rapped: put more in.",
        ),
        _m(
            "W19",
            "dry for fresh",
            "used the hardened density for the fresh weight",
            "That is right for the years to come. On the day itself the water is still in it: which density then?",
        ),
        _m(
            "W20",
            "drying by the mean",
            "dried the mean depth, or all of it at the first rate",
            "You used the drying rates, good. The deepest place dries last, and below its first part more slowly.",
        ),
        _m(
            "W21",
            "counted from day 1",
            "counted the day of the pour as day 1",
            "You added the right days. The day of the pour is day 0: start counting the day after.",
        ),
        _m(
            "W22",
            "fall as per cent",
            "took so many mm per metre for so many per cent",
            "You let the floor fall the right way. The figure is mm per metre, ten times less than per cent.",
        ),
        _m(
            "W23",
            "extension added",
            "added the extension to the leg",
            "You saw that this leg needs an extension. It changes the range of the leg, not the height that is wanted.",
        ),
        _m(
            "W24",
            "one strip only",
            "took the perimeter strip off at one end",
            "You left room for the strip, good. How many ends has a rail between two walls?",
        ),
        _m(
            "W25",
            "foresight for backsight",
            "took a foresight for the backsight",
            "You added to the level of the point, and that is right. Which of the two readings there was taken to find "
            "how high the laser is?",
        ),
        _m(
            "W26",
            "change point ignored",
            "began the new set-up as if it stood on the datum",
            "Level plus backsight is the right sum. The staff stood on the change point, not on the datum: how high "
            "is that?",
        ),
        _m(
            "W27",
            "correction left out",
            "left the correction out",
            "Line less reading is right. You have found a correction for this set-up: use it.",
        ),
        _m(
            "W28",
            "adhesive forgotten",
            "left the adhesive or the mat out of the finish",
            "You counted the layers that one sees. What holds the covering down, and how thick is it?",
        ),
        _m(
            "W29",
            "misclosure turned round",
            "took known less found",
            "You compared the right two figures. Too high means that the book ends above what is known.",
        ),
        _m(
            "W30",
            "sum turned round",
            "took the change point's depth for a height",
            "You carried the change point on, good. Does it lie above or below the datum, and so above or below the "
            "line?",
        ),
        _m(
            "W31",
            "rise for fall",
            "took the bigger reading for the rise",
            "The difference of the two readings is right. The staff goes down where it reads more: which of the two "
            "is it, rise or fall?",
        ),
    )
}
