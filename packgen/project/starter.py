"""The starter file: a small invented room that builds as it is, with a remark beside each thing to change."""

from __future__ import annotations

import re
import unicodedata

_TEXT = """\
# __TITLE__: a starter file. The room is invented and plans as it is: change one thing after the other to your own.
#
# How to write:
#   Everything behind a '#' is a remark. Lines that belong together start in the same column; use blanks, never tabs.
#   A bare number is millimetres (mm); 4.2 m and 420 cm are fine too. Other units are always written: 25 kg, 3 days.
#   Heights are said in words: '12 above TBM', '8 below TBM', 'same as TBM'. Never write a minus sign.
#   A text that holds ': ' or begins with a sign such as * or @ stands in "quotes".
#   Where you do not know something, write 'unknown'. The pack then says what has to be found out first.

pack layout: 1

project:
  name: __NAME__
  reference: R1                    # your own number of the job
  revision: A                      # next letter whenever you print again
  date: 2027-05-03                 # year-month-day
  prepared by: the renovator
  reader: site                     # site | class | client
  aim: a level floor, flush with the hall

datum:                             # the one height everything is measured from; it must still be there at the end
  name: TBM                        # short for temporary bench mark; use this very name in all heights below
  where: top of the hall threshold, middle of the door
  means: finished floor of the hall

base:                              # what you build on
  kind: concrete on ground         # or: timber joists and boards, suspended concrete slab ...
  age: 3000 days                   # or: unknown
  membrane: yes                    # a damp-proof membrane below: yes | no | unknown | not needed
  separating layer: 0.2 mm polyethylene, laps 150 taped
  damp reading: {value: 72 % RH, method: hygrometer box 72 h, date: 2027-04-28}   # or: unknown
  old covering: none

rooms:
  # Stand inside with your LEFT hand on the wall and walk: that is clockwise seen from above.
  # At the end of each wall say how you go on: 'turn right' is an ordinary inside corner, 'turn left' goes round
  # something that sticks out, 'skew' is a corner that is not square (then both diagonals are needed).
  - name: workroom
    start: inside corner left of the hall door, seen as you come in
    walls:
      - wall 1: 4210, turn right
      - wall 2: 3620, turn right
      - wall 3: 4208, turn right
      - wall 4: 3620, turn right
    check tapes:                   # measure both diagonals: they tell whether the room is square
      - corner 1 to corner 3: 5552
      - corner 2 to corner 4: 5550
    ceiling: {lowest: 2450}

openings:                          # 'from' is measured along the wall, in the direction of the walk
  - {name: hall door, in: wall 4, from: 2500, width: 860, leads to: hall, floor there: same as TBM, sill: none}

finishes:                          # what lies on the rails, from the top
  - zone: workroom
    covers: whole room
    finished level: same as TBM
    fall: level                    # or: 15 per metre, going down from wall 1 to wall 3
    layers from the top:
      - ceramic tile: 9
      - adhesive: 5
    weight of layers: 27 kg/m2
    wet: no

services: []                       # pipes and cables in the floor; to name one, take [] away and the # below:
#  - {name: cable, kind: conduit, outside: 20, lies on: slab, from: [0, 900], to: [4200, 900]}
#    a place is [along wall 1 from corner 1, from wall 1 into the room]

joints: []

kit:                               # measure your own parts
  module: 600                      # distance between the lines of legs
  rail: {width: 35, height: 20}
  leg: {shortest: 46, longest: 94} # from the floor to the TOP of the rail
  extension: {adds: 40, most per leg: 1}
  foot: {diameter: 60}
  first line from wall: 50
  smallest cut piece: 150
  edge strip: 10                   # soft strip along every wall
  mass: 2.8 kg/m2

fills:                             # what is filled in between the rails: read it off the bag
  use: sand cement
  compare: [sand cement]
  sand cement:
    kind: sand-cement screed
    class: CT-C20-F4
    bag: {mass: 25 kg, makes: 12.5 l, price: 4.20}
    water: {least: 2.3 l, most: 2.8 l}   # for one bag
    fresh density: 2150 kg/m3
    hardened density: 2000 kg/m3
    waste: 5 %
    settles: 0 %
    thickness: {least: 50, most: 100}
    why least: unbonded on a separating layer, BS 8204-1
    working time: 60 min
    walk on after: 3 days
    keep covered: 7 days
    drying: {first 40 at: 1 mm per day, rest at: 0.5 mm per day}
    lowest temperature: 5 C
    board on top: none

levels:
  # Readings on a staff or stiff rule: how far the laser line is above the spot. A BIGGER number is a LOWER floor.
  # Begin on the TBM, read the spots ('-' where there is no reading), and end on the TBM: then a mistake shows.
  read as: staff readings
  largest misclosure: 3            # by so much may first and last reading on the TBM disagree
  # The best spots are where the legs will stand: 50 from wall 1, then every 600, and 50 from the wall opposite.
  columns at: {A: 50, B: 650, C: 1250, D: 1850, E: 2450, F: 3050, G: 3650, H: 4160}   # from corner 1 along wall 1
  rows at: {1: 50, 2: 650, 3: 1250, 4: 1850, 5: 2450, 6: 3050, 7: 3570}               # from wall 1 into the room
  setups:                          # where the laser stood; a second place is a second entry, joined by 'leave on'
    - name: S1
      date: 2027-04-30
      by: the renovator and a helper
      start on: {point: TBM, reading: 1310}
      readings: |
        row         A      B      C      D      E      F      G      H
        1        1388   1388   1389   1390   1391   1391   1390   1390
        2        1388   1389   1390   1390   1391   1391   1391   1390
        3        1389   1390   1391   1392   1392   1392   1391   1391
        4        1389   1390   1391   1392   1393   1392   1391   1391
        5        1388   1389   1390   1391   1392   1391   1391   1390
        6        1388   1388   1389   1390   1391   1391   1390   1390
        7        1387   1388   1389   1389   1390   1390   1389   1389
      close on: {point: TBM, reading: 1309}

crew:
  - {role: renovator, hours a day: 7}
  - {role: helper, hours a day: 7}
plant:
  - {item: hand mixer and tub 65 l, number: 1, output: 220 l per hour}
  - {item: cross-line laser, number: 1}
rates:                             # what one person does in an hour
  set grid: 2 m2 per person hour
  place fill: 150 l per person hour
  finish: 4 m2 per person hour

calendar:
  start: 2027-05-10
  working days: [Mon, Tue, Wed, Thu, Fri]
  not working: []                  # for example [2027-05-13]
  lowest night temperature: 9 C

prices:                            # only what you know; the pack lists what has no price
  currency: EUR
  edge strip: 0.60 per m
  labour: 0.00 per hour

laser: {tested: 2027-04-29}        # the day of the two-peg test; leave the line out if nobody tested it

limits:
  rail top: 2                      # how far the top of a rail may be from its target
  next node: 2                     # how much two neighbours may differ
  surface: SR2                     # BS 8204-1
  step without ramp strip: 4
"""


def starter(name: str) -> str:
    """The text of a starter project file for a project called `name`."""
    clean = "".join(" " if unicodedata.category(c)[0] in "CZ" else c for c in name)
    title = " ".join(clean.split())[:80] or "My floor"
    return _TEXT.replace("__TITLE__", title).replace("__NAME__", _as_value(title))


def _as_value(text: str) -> str:
    """The text as a value of the file: in quotes where it holds a sign that means something there."""
    if re.fullmatch(r"\w[\w .,()/+&'-]*", text):
        return text
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
