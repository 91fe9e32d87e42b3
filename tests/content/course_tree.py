"""A small sound course in a temporary folder, for tests to break."""

from __future__ import annotations

from pathlib import Path

from academy.content import Compiled, Problem, compile_course
from academy.domain.curriculum.findings import Severity

LESSON = "modules/safety/lessons/01-before-you-start.md"
MODULE = "modules/safety/module.md"
CHOICE = "modules/safety/questions/cord-behind.md"
MULTIPLE = "modules/safety/questions/two-checks.md"
ORDER = "modules/safety/questions/order-of-start.md"
MATCH = "modules/safety/questions/match-marks.md"
NUMERIC = "modules/safety/questions/share-of-mix.md"
HOTSPOT = "modules/safety/questions/point-at-clear.md"
SCENARIO = "modules/safety/questions/warm-bonnet.md"
TASK = "tasks/polish-one-section.md"
DRILL = "drills/plate-mark.md"
SCHEME = "schemes/polishing.md"
FACTS = "facts/machines.yaml"
CAUTIONS = "cautions.md"
GLOSSARY = "glossary/words.md"
COURSE = "course.md"

FILES = {
    COURSE: """---
title: A small course
modules: [safety]
kinds-of-work:
  polishing: Polishing
---
Everything here is invented.
""",
    CAUTIONS: """## A rotating pad catches {#rotating-pad}

Tie hair back.
""",
    GLOSSARY: """## Haze {#haze}

A milky look that fine scratches leave.
""",
    FACTS: """dial-cut:
  says: dial setting for cutting
  low: 3
  high: 4.5
  unit: ""
  source: common practice, no source
  confidence: medium
cap:
  says: most that is taken off (at most)
  low: 8
  unit: um
  source: common practice, no source
  confidence: low
""",
    MODULE: """---
title: Safety
cautions: [rotating-pad]
objectives:
  - id: cord
    text: Keep the cord clear
    kind: doing
    must-know: true
  - id: heat
    text: Keep the panel cool
    kind: knowing
    must-know: false
blueprint:
  cord: {recall: 0, apply: 1, judge: 0}
  heat: {recall: 0, apply: 0, judge: 1}
---
A summary.
""",
    LESSON: """---
title: Before you start
objectives: [cord, heat]
minutes: 8
cautions: [rotating-pad]
---
## Where the cord runs {#cord}

Run it over your shoulder. Set the dial to [3 to 4.5](fact:dial-cut).

Take off at most [8 µm](fact:cap). A [haze](term:haze) comes from dry work.

## What good looks like

The pad runs flat, see [the cord](#cord).

## What goes wrong and why

The cord catches. Read [it again](lesson:safety/before-you-start#cord).

```check
ask: Which way: left or right?
answer: Over your shoulder.
```

```figure orbit-trace
throw_mm: 15
caption: One orbit.
```
""",
    CHOICE: """---
kind: choice
objective: cord
level: apply
teaches: safety/before-you-start#cord
key: 2
rating: 75
rating-reason: Seen on the first day.
source: common practice, no source
---
You are about to polish a bonnet with a corded machine. Where does the cord go?

1. On the floor, between you and the car.

   You step on it.

2. Over your shoulder, behind you.

   It follows you.

3. Round your wrist, held fast.

   It pulls your hand into the pad.
""",
    MULTIPLE: """---
kind: multiple response
objective: cord
level: apply
teaches: safety/before-you-start#cord
key: [1, 3]
rating: 60
rating-reason: Both are shown on the first day.
source: common practice, no source
---
Which two things do you look at before you plug a polisher in?

1. The cord along its length.

   A cut in it can kill.

2. The colour of the car.

   It tells you nothing about the machine.

3. The switch being off.

   A machine that starts by itself jumps.
""",
    ORDER: """---
kind: order
objective: heat
level: judge
teaches: safety/before-you-start#cord
key: [3, 1, 2]
rating: 60
rating-reason: Practised at every panel.
source: common practice, no source
---
Put these steps of a first section in order.

1. Spread the product.

   It comes after the pad lies flat.

2. Polish slowly.

   It comes last.

3. Lay the pad flat.

   It comes first.
""",
    MATCH: """---
kind: match
objective: heat
level: judge
teaches: safety/before-you-start#cord
key: {1: 2, 2: 1}
rating: 60
rating-reason: Two marks everybody has seen.
source: common practice, no source
---
Which mark on the paint has which cause?

1. Haze

   Dry work leaves it.

2. A burnt edge

   Heat leaves it.

## Partners

1. Staying on a body line
2. Working until the film is dry
3. Rain
""",
    NUMERIC: """---
kind: numeric entry
objective: heat
level: judge
teaches: safety/before-you-start#cord
key: 9.09
unit: percent
tolerance: 0.05
rating: 50
rating-reason: A sum with one trap.
source: arithmetic
---
You mix one part of cleaner with ten parts of water. What share of the mix is cleaner?

1. 10

   That is one part in ten, not in eleven.

## Why

One part of eleven is [9.09](example) in a hundred.
""",
    HOTSPOT: """---
kind: hotspot
objective: heat
level: judge
teaches: safety/before-you-start#cord
key: 1
regions:
  1: {label: top layer, left: 0, top: 0, width: 50, height: 50}
  2: {label: lower layer, left: 0, top: 50, width: 50, height: 50}
rating: 80
rating-reason: Shown in the first lesson.
source: common practice, no source
---
Point at the layer of the paint that you polish.

```figure paint-layers
```

1. It lies on top.

2. You never reach it.
""",
    SCENARIO: """---
kind: scenario
objective: heat
level: judge
teaches: safety/before-you-start#cord
rating: 60
rating-reason: Two steps, each shown in the lesson.
source: common practice, no source
panel: {thickness_um: 112, temperature_c: 24, finish: swirl marks, minutes: 0}
decisions:
  first-pass:
    key: 1
    effects:
      1: {marks: 50, removed_um: 0.5, warms_k: 8, takes_minutes: 4, follows: warm-panel}
      2: {marks: 0, removed_um: 2, warms_k: 35, takes_minutes: 4, follows: warm-panel}
      3: {marks: 20, takes_minutes: 4}
  warm-panel:
    key: 2
    effects:
      1: {marks: 0, warms_k: 10}
      2: {marks: 50}
      3: {marks: 0}
---
A black bonnet with swirl marks stands in the bay.

## first-pass

What do you start with?

1. A soft pad.

   It takes the least.

2. A wool pad.

   It takes too much.

3. A cloth.

   It takes nothing.

## warm-panel

The panel is warm. What do you do?

1. Go on.

   It gets warmer.

2. Let it cool.

   It cools by itself.

3. Pour water on it.

   It shocks the paint.
""",
    TASK: """---
title: Polish one section
kind-of-work: polishing
objectives: [cord]
cautions: [rotating-pad]
spots: 5
readings-per-spot: 3
limit-um: 3
minutes: 45
substrates: [steel]
set-up-checks:
  - Eye protection is on
criteria:
  - id: within-limit
    text: Removal at every spot is within the limit
    critical: true
    measured: true
---
Polish one section.

## Trainer's sheet

Stand at the left.
""",
    DRILL: """---
title: Read the plate mark
objectives: [cord]
cautions: [rotating-pad]
minutes: 10
---
Watch the mark for ten minutes.
""",
    SCHEME: """---
title: Polishing
kind-of-work: polishing
version: 1
term-months: 12
decision: {by: [owner], from: alone}
recertification: {practicals: {polish-one-section: 1}, window-months: 3}
return-check-months: 6
suspended-by: [burn-through]
levels:
  supervisor beside: {modules: [safety]}
  alone: {practicals: {polish-one-section: 3}}
---
May polish.
""",
}

# A must-know objective needs one question more than a form carries; coverage wants four.
FILES |= {
    f"modules/safety/questions/cord-again-{number}.md": FILES[CHOICE].replace(
        "You are about to polish a bonnet", f"You want to polish panel {number} of a car"
    )
    for number in (2, 3)
}


class CourseTree:
    """The sound course on disk; a test changes what it wants to see refused."""

    def __init__(self, root: Path) -> None:
        self.root = root
        for path, text in FILES.items():
            self.write(path, text)

    def write(self, path: str, text: str) -> None:
        file = self.root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")

    def remove(self, path: str) -> None:
        (self.root / path).unlink()

    def text(self, path: str) -> str:
        return (self.root / path).read_text(encoding="utf-8")

    def change(self, path: str, old: str, new: str) -> None:
        """Replace the first place where ``old`` stands; it has to stand there."""
        text = self.text(path)
        assert old in text, f"{path} does not hold {old!r}"
        self.write(path, text.replace(old, new, 1))

    def line(self, path: str, words: str) -> int:
        """Return the first line that holds the words."""
        lines = self.text(path).split("\n")
        return next(number for number, line in enumerate(lines, 1) if words in line)

    def compiled(self) -> Compiled:
        return compile_course(self.root)


def errors_at(compiled: Compiled, path: str, line: int) -> list[str]:
    return _messages(compiled.problems, path, line, Severity.ERROR)


def warnings_at(compiled: Compiled, path: str, line: int) -> list[str]:
    return _messages(compiled.problems, path, line, Severity.WARNING)


def _messages(problems: tuple[Problem, ...], path: str, line: int, severity: Severity) -> list[str]:
    return [
        problem.message
        for problem in problems
        if (problem.path, problem.line, problem.severity) == (path, line, severity)
    ]
