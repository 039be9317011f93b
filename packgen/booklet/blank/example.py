"""One invented room that runs through all survey sheets as the example, and its lines in the project file.

The test reads FILE_LINES as a project file that is begun, and works the level book again.
"""

from __future__ import annotations

WALLS = (
    ("wall 1", "3600", "right", "plaster, radiator"),
    ("wall 2", "2800", "right", "window"),
    ("wall 3", "3598", "right", "plaster"),
    ("wall 4", "2802", "right", "hall door"),
)
BACKSIGHT, FIRST, SECOND, LEAVE = 1405, 1489, 1492, 1480
AGAIN, THIRD, CLOSE = 1310, 1322, 1236

ROOM = """\
rooms:
  - name: den
    start: inside corner left of the hall door
    walls:
      - wall 1: 3600, turn right
      - wall 2: 2800, turn right
      - wall 3: 3598, turn right
      - wall 4: 2802, turn right
    check tapes:
      - corner 1 to corner 3: 4560
      - corner 2 to corner 4: 4562
    ceiling: {lowest: 2410}
    obstacles:
      - {name: chimney, shape: rectangle, from: [1500, 0], to: [2100, 350], stays: yes}"""

DOORS = """\
openings:
  - {name: hall door, in: wall 4, from: 700, width: 860, leads to: hall,
     floor there: same as TBM, sill: none}
  - {name: yard door, in: wall 3, from: 900, width: 900, leads to: yard,
     floor there: 145 below TBM, sill: 8 above TBM}"""

SERVICES = """\
services:
  - {name: radiator pipe, kind: water pipe, outside: 22, lies on: slab,
     from: [0, 900], to: [3600, 900]}"""

BASE = """\
datum: {name: TBM, where: top of the strip in the hall door, means: finished floor of the hall}
base:
  kind: concrete on ground
  age: unknown
  membrane: unknown
  damp reading: {value: 71 % RH, method: hygrometer box 72 h, date: 2027-03-29}
  old covering: none
laser:
  tested: 2027-04-29
  two-peg test: {A from middle: 1402, B from middle: 1417,
     A from end: 1398, B from end: 1415, end to A: 2 m, end to B: 22 m}"""

LEVELS = f"""\
levels:
  read as: staff readings
  columns at: {{A: 50, B: 1250, C: 2450}}
  rows at: {{1: 50}}
  setups:
    - name: S1
      start on: {{point: TBM, reading: {BACKSIGHT}}}
      readings: |
        row  A  B
        1  {FIRST}  {SECOND}
      leave on: {{point: CP1, reading: {LEAVE}}}
    - name: S2
      start on: {{point: CP1, reading: {AGAIN}}}
      readings: |
        row  C
        1  {THIRD}
      close on: {{point: TBM, reading: {CLOSE}}}"""

PARTS = (ROOM, DOORS, SERVICES, BASE, LEVELS)
FILE_LINES = "\n".join(PARTS) + "\n"

BOOK = (  # point, backsight, between, foresight, height of collimation, level, above or below
    ("TBM", str(BACKSIGHT), "", "", str(BACKSIGHT), "0", "same"),
    ("A1", "", str(FIRST), "", "", str(FIRST - BACKSIGHT), "below"),
    ("B1", "", str(SECOND), "", "", str(SECOND - BACKSIGHT), "below"),
    ("CP1", "", "", str(LEAVE), "", str(LEAVE - BACKSIGHT), "below"),
    ("CP1", str(AGAIN), "", "", str(AGAIN - (LEAVE - BACKSIGHT)), "", ""),
    ("C1", "", str(THIRD), "", "", str(THIRD - AGAIN + LEAVE - BACKSIGHT), "below"),
    ("TBM", "", "", str(CLOSE), "", str(CLOSE - AGAIN + LEAVE - BACKSIGHT), "below"),
)
BACKSIGHTS, FORESIGHTS = BACKSIGHT + AGAIN, LEAVE + CLOSE

PEG_MIDDLE = (1402, 1417)
PEG_NEAR = (1398, 1415)
