# SPDX-License-Identifier: Apache-2.0
"""What can be measured of a screen in a browser: its texts, its keys, whether it scrolls."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from tests.served import Served, free_port

MEASURE = r"""() => {
  const rgb = (text) => {
    const [red, green, blue, alpha = 1] = text.match(/[\d.]+/g).map(Number);
    return { red, green, blue, alpha };
  };
  const luminance = ({ red, green, blue }) => {
    const [r, g, b] = [red, green, blue].map((part) => {
      const share = part / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const contrast = (one, other) => {
    const [low, high] = [luminance(one), luminance(other)].sort((a, b) => a - b);
    return (high + 0.05) / (low + 0.05);
  };
  const ground = (element) => {
    for (let at = element; at !== null; at = at.parentElement) {
      const colour = rgb(getComputedStyle(at).backgroundColor);
      if (colour.alpha === 1) return colour;
    }
    return { red: 255, green: 255, blue: 255, alpha: 1 };
  };
  const isShown = (element) => element.checkVisibility({ visibilityProperty: true, opacityProperty: true });
  const isClipped = (element) =>
    element !== null && (getComputedStyle(element).clipPath !== "none" || isClipped(element.parentElement));
  const box = ({ left, top, right, bottom }) => ({ left, top, right, bottom });
  const COUNTED = [
    ".key-count", ".fact strong", ".on-bench", ".look-numbers dd",
    ".tray-numbers dd", ".tile strong", ".keypad-field",
  ].join(", ");
  const texts = [];
  const walker = document.createTreeWalker(document.getElementById("app"), NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode;
    const element = node.parentElement;
    if (node.textContent.trim() === "" || !isShown(element) || element.tagName === "title") continue;
    const style = getComputedStyle(element);
    if (isClipped(element)) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const holder = element.closest(".key, .fact, .critical, .last-find, .zones h2, .sync, svg") ?? document.body;
    const isSvg = element.closest("svg") !== null;
    texts.push({
      text: node.textContent.trim(),
      size: parseFloat(style.fontSize),
      contrast: contrast(rgb(isSvg ? style.fill : style.color), ground(element)),
      box: box(range.getBoundingClientRect()),
      holder: box(holder.getBoundingClientRect()),
      holderIs: String(holder.className?.baseVal ?? holder.className),
      isCounted: element.closest(COUNTED) !== null && element.closest("small") === null,
    });
  }
  const keys = [...document.querySelectorAll("button, input, select, a[href]")].filter(isShown).map((element) => {
    const style = getComputedStyle(element);
    const outside = ground(element.parentElement);
    const edges = [rgb(style.borderTopColor), rgb(style.backgroundColor)].filter((colour) => colour.alpha === 1);
    return {
      name: element.getAttribute("aria-label") ?? element.textContent.trim(),
      kind: element.className,
      box: box(element.getBoundingClientRect()),
      edge: Math.max(...edges.map((colour) => contrast(colour, outside))),
    };
  });
  const { scrollWidth, clientWidth, scrollHeight, clientHeight } = document.documentElement;
  const inner = [...document.querySelectorAll(".app, .tally, .pad, .strip, .side")]
    .filter(
      ({ scrollHeight, clientHeight, scrollWidth, clientWidth }) =>
        scrollHeight > clientHeight + 1 || scrollWidth > clientWidth + 1,
    )
    .map((element) => element.className);
  return { texts, keys, inner, wide: scrollWidth - clientWidth, high: scrollHeight - clientHeight };
}"""


@dataclass
class Screen:
    """One screen as it stood at one size: what MEASURE saw."""

    stage: str
    language: str
    size: tuple[int, int]
    texts: list[dict[str, Any]]
    keys: list[dict[str, Any]]
    inner: list[str]
    wide: int
    high: int

    @classmethod
    def measure(cls, page: Page, stage: str, language: str, size: tuple[int, int]) -> Screen:
        """Give the page a size, let it lay itself out, and measure it."""
        page.set_viewport_size({"width": size[0], "height": size[1]})
        page.evaluate("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
        page.wait_for_timeout(60)
        return cls(stage, language, size, **page.evaluate(MEASURE))

    @property
    def where(self) -> str:
        """Which screen this is, for a message."""
        return f"{self.stage} {self.language} {self.size[0]}x{self.size[1]}"

    @property
    def is_tally(self) -> bool:
        """The tally has rules of its own: it never scrolls."""
        return self.stage.startswith("tally")


@contextmanager
def demo_works(folder: Path) -> Iterator[Served]:
    """A demo works that is served for as long as several tests look at its screens."""
    server = Served(folder / "works", free_port())
    server.start()
    try:
        yield server
    finally:
        server.stop()


def width(box: dict[str, float]) -> float:
    """How wide a box is."""
    return box["right"] - box["left"]


def height(box: dict[str, float]) -> float:
    """How high a box is."""
    return box["bottom"] - box["top"]


def gap(one: dict[str, float], other: dict[str, float]) -> float:
    """How far two boxes are apart; negative where they overlap."""
    across = max(one["left"] - other["right"], other["left"] - one["right"])
    down = max(one["top"] - other["bottom"], other["top"] - one["bottom"])
    return max(across, down)


def sticks_out(inner: dict[str, float], outer: dict[str, float], by: float = 1.5) -> bool:
    """Whether a box leaves the one that holds it."""
    return (
        inner["left"] < outer["left"] - by
        or inner["right"] > outer["right"] + by
        or inner["top"] < outer["top"] - by
        or inner["bottom"] > outer["bottom"] + by
    )
