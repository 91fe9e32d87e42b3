"""What a browser is asked about a page: rules of access, targets, width, focus."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import ConsoleMessage, Page

WCAG_22_AA = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa")

# A link or a word of the glossary inside a sentence is as large as its words (WCAG 2.2, 2.5.8,
# inline exception).
SMALL_TARGETS = """
(least) => [...document.querySelectorAll("a, button, input, select, textarea, summary")]
  .filter(control => control.type !== "hidden" && control.checkVisibility())
  .filter(control => !(control.matches("a") && control.closest("p, li, td, dd")
    && control.closest("p, li, td, dd").textContent.trim() !== control.textContent.trim()
    && getComputedStyle(control).display === "inline"))
  .filter(control => !(control.matches("button.term")
    && control.closest("p, li, td, blockquote").textContent.trim() !== control.textContent.trim()))
  .map(control => ["checkbox", "radio"].includes(control.type)
    ? control.closest("label") || control : control)
  .filter(target => {
    const box = target.getBoundingClientRect();
    return box.width < least || box.height < least;
  })
  .map(target => target.outerHTML.slice(0, 120))
"""

# Only one radio of a group takes part in the tab order.
CONTROLS_IN_ORDER = """
() => {
  const met = new Set();
  return [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex='0']")]
    .filter(control => !control.disabled && control.type !== "hidden" && control.checkVisibility())
    .filter(control => {
      if (control.type !== "radio") return true;
      const group = [control.form && control.form.id, control.name].join();
      const first = !met.has(group);
      met.add(group);
      return first;
    })
    .map(control => control.type === "radio" ? "radio " + control.name : control.outerHTML.slice(0, 120));
}
"""

# A refused form takes the focus to its faults, so the walk starts above everything.
TO_THE_TOP = """
() => {
  const top = document.createElement("span");
  top.tabIndex = -1;
  document.body.prepend(top);
  top.focus();
}
"""

FOCUSED = """
() => {
  const control = document.activeElement;
  if (control === document.body) return null;
  const painted = ["checkbox", "radio"].includes(control.type) ? control.closest("label") || control : control;
  const look = getComputedStyle(painted);
  const box = painted.getBoundingClientRect();
  const x = Math.min(Math.max(box.left + box.width / 2, 0), innerWidth - 1);
  const y = Math.min(Math.max(box.top + Math.min(box.height / 2, 20), 0), innerHeight - 1);
  const top = document.elementFromPoint(x, y);
  return {
    control: control.type === "radio" ? "radio " + control.name : control.outerHTML.slice(0, 120),
    outlinePx: look.outlineStyle === "none" ? 0 : parseFloat(look.outlineWidth),
    covered: !(top && (painted.contains(top) || top.contains(painted))),
  };
}
"""


@dataclass(frozen=True, slots=True)
class Focused:
    """Where the keyboard is, how wide its ring is, and whether something lies over it."""

    control: str
    outline_px: float
    covered: bool


def policy_refusals(page: Page) -> list[str]:
    """Return a list that grows with every message of the content policy."""
    heard: list[str] = []

    def hear(message: ConsoleMessage) -> None:
        if "Content Security Policy" in message.text:
            heard.append(message.text)

    page.on("console", hear)
    return heard


def access_faults(page: Page) -> list[str]:
    """Return every rule of WCAG 2.2 A and AA that axe finds broken, with the elements."""
    page.wait_for_load_state()
    options = {"runOnly": {"type": "tag", "values": list(WCAG_22_AA)}}
    found: list[dict[str, Any]] = Axe().run(page, options=options).response["violations"]
    return [
        f"{fault['id']}: {node['html'][:160]}: {node.get('failureSummary', '')}"
        for fault in found
        for node in fault["nodes"]
    ]


def small_targets(page: Page, least_px: int = 44) -> list[str]:
    """Return the controls that are narrower or lower than ``least_px``."""
    page.wait_for_load_state()
    found: list[str] = page.evaluate(SMALL_TARGETS, least_px)
    return found


def width_px(page: Page) -> int:
    """Return how wide the page is, whatever the window shows of it."""
    page.wait_for_load_state()
    width: int = page.evaluate("document.documentElement.scrollWidth")
    return width


def controls_in_order(page: Page) -> list[str]:
    """Return the controls in the order in which they are written."""
    found: list[str] = page.evaluate(CONTROLS_IN_ORDER)
    return found


def tab_through(page: Page, most: int = 300) -> list[Focused]:
    """Press Tab from the top of the page until the keyboard leaves it."""
    page.evaluate(TO_THE_TOP)
    stops: list[Focused] = []
    for _press in range(most):
        page.keyboard.press("Tab")
        at = page.evaluate(FOCUSED)
        if at is None:
            break
        stops.append(Focused(at["control"], at["outlinePx"], at["covered"]))
    return stops
