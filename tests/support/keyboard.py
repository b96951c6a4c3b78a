"""The keyboard alone: where it leads on a page, and whether the eye can follow."""

from __future__ import annotations

from dataclasses import dataclass

from playwright.sync_api import Locator, Page

MOST = 600
"""Presses of a key after which a page is taken to hold the keyboard fast."""

_REACHED = """() => {
  const controls = [...document.querySelectorAll(
    "a[href], button, input, select, textarea, summary, audio[controls], [tabindex='0']")];
  const shown = (each) => !each.disabled && each.type !== "hidden" && each.checkVisibility({
    visibilityProperty: true }) && !(each.tabIndex < 0);
  const named = (each) => each.type === "radio" ? `radio ${each.name}`
    : each.outerHTML.slice(0, 120);
  const chosen = (each) => each.type !== "radio" || each.checked || ![...document.getElementsByName(
    each.name)].some((other) => other.form === each.form && other.checked);
  const scope = controls.filter(shown).filter(chosen);
  const seen = new Set();
  const wanted = scope.filter((each) => {
    if (each.type !== "radio") return true;
    const group = `${[...document.forms].indexOf(each.form)} ${each.name}`;
    return seen.has(group) ? false : seen.add(group);
  });
  window.wanted = wanted;
  window.plain = new Map();
  for (const each of wanted) plain.set(each, looks(each));
  return wanted.map(named);
}"""
_LOOKS = """() => { window.looks = (each) => {
  const near = [each, each.nextElementSibling, each.parentElement, ...(each.labels || [])];
  return near.filter(Boolean).map((one) => {
    const { outlineStyle, outlineWidth, boxShadow } = getComputedStyle(one);
    return outlineStyle === "none" ? `none ${boxShadow}`
      : `${outlineStyle} ${outlineWidth} ${boxShadow}`;
  }).join("; ");
}; }"""
_STEP = """() => {
  const at = document.activeElement;
  if (!at || at === document.body || at === document.documentElement) return null;
  const box = at.getBoundingClientRect();
  let index = wanted.indexOf(at);
  if (index < 0 && at.type === "radio")
    index = wanted.findIndex((each) => each.name === at.name && each.form === at.form);
  return {
    index, name: at.outerHTML.slice(0, 120), isNew: !window.been?.has(at),
    isSeen: looks(at) !== plain.get(wanted[index] ?? at),
    isShown: box.width > 0 && box.bottom > 0 && box.top < innerHeight,
    was: (window.been ??= new Set()).add(at) && true,
  };
}"""


@dataclass(frozen=True, slots=True)
class Walk:
    """What the tab key met on its way through a page.

    Parameters
    ----------
    wanted : tuple of str
        Every control that is shown, in the order of the page.
    order : tuple of int
        Which of them the key came to, in its order; -1 for anything else.
    unseen : tuple of str
        Controls that look the same with the keyboard on them as without.
    outside : tuple of str
        Controls that were out of sight when the keyboard was on them.
    """

    wanted: tuple[str, ...]
    order: tuple[int, ...]
    unseen: tuple[str, ...]
    outside: tuple[str, ...]

    @property
    def missed(self) -> list[str]:
        """Controls that the key never came to."""
        return [name for at, name in enumerate(self.wanted) if at not in set(self.order)]


def walked(page: Page) -> Walk:
    """Press the tab key from the top of a page to its end."""
    page.evaluate(_LOOKS)
    wanted = page.evaluate(_REACHED)
    order: list[int] = []
    unseen: list[str] = []
    outside: list[str] = []
    for _ in range(MOST):
        page.keyboard.press("Tab")
        step = page.evaluate(_STEP)
        if step is None or not step["isNew"]:
            break
        order.append(step["index"])
        if not step["isSeen"]:
            unseen.append(step["name"])
        if not step["isShown"]:
            outside.append(step["name"])
    return Walk(tuple(wanted), tuple(order), tuple(unseen), tuple(outside))


def tab_to(page: Page, what: Locator) -> None:
    """Press the tab key until the keyboard is on something."""
    what.first.wait_for(state="attached")
    for _ in range(MOST):
        if what.first.evaluate("(each) => each === document.activeElement"):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"the tab key never came to {what}")
