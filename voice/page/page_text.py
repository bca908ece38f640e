"""The page itself: one file, which asks for nothing but news from where it came from."""

from __future__ import annotations

from base64 import b64encode
from hashlib import sha256

STYLE = """
:root { color-scheme: light dark; --ink: #000; --paper: #fff; }
@media (prefers-color-scheme: dark) { :root { --ink: #fff; --paper: #000; } }
* { box-sizing: border-box; }
html { color: var(--ink); background: var(--paper); font-family: system-ui, sans-serif; }
body { margin: 0; min-height: 100vh; }
main { display: grid; min-height: 100vh; padding: max(2vmin, 10px); gap: 2vmin;
  grid-template: minmax(min-content, 1fr) auto auto / minmax(0, 1fr); }
h1 { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
#said { margin: 0; font-weight: bold; line-height: 1.15; font-size: clamp(1.75rem, 8vmin, 9rem);
  overflow-wrap: break-word; text-wrap: balance; }
#where { margin: 0; font-size: clamp(1.25rem, 5vmin, 4rem); }
#where > span { display: inline-block; }
#notice { margin: 0 0 0.5em; padding: 0.3em 0.5em; font-weight: bold; line-height: 1.2;
  font-size: clamp(1.5rem, 5vmin, 5rem); text-wrap: balance; color: var(--paper);
  background: var(--ink); border: 3px solid var(--ink); }
#drawings { display: flex; gap: 3vmin; flex-wrap: wrap; justify-content: center; }
#drawings > div { flex: 1 1 14rem; max-width: 60vmin; }
svg { display: block; width: 100%; height: auto; max-height: 60vh; }
form { font-size: clamp(1.25rem, 4vmin, 3rem); }
label { display: block; font-weight: bold; margin-bottom: 10px; }
input { width: 100%; font: inherit; color: inherit; background: inherit; padding: 0.3em;
  border: 3px solid var(--ink); }
:focus-visible { outline: 5px solid var(--ink); outline-offset: 2px; }
[hidden] { display: none !important; }
@media (min-aspect-ratio: 6/5) and (min-width: 50em) {
  main { grid-template: minmax(min-content, 1fr) auto auto / minmax(0, 3fr) minmax(0, 2fr); }
  main:has(#drawings[hidden]) { grid-template-columns: minmax(0, 1fr); }
  #drawings { grid-area: 1 / 2 / 4 / 3; flex-direction: column; flex-wrap: nowrap;
    align-items: stretch; }
  #drawings > div { flex: 0 1 auto; max-width: none; }
  svg { max-height: 46vh; }
}
"""

SCRIPT = """
"use strict";
const at = name => document.getElementById(name);
const drawn = (name, svg) => at(name).replaceChildren(...(svg ? [document.importNode(
  new DOMParser().parseFromString(svg, "image/svg+xml").documentElement, true)] : []));
const typeset = words => words.replace(/(^|[\\s(])'/g, "$1\u2018").replaceAll("'", "\u2019")
  .replace(/(\\w+ty) (?=(one|two|three|four|five|six|seven|eight|nine)\\b)/gi, "$1\u00a0");
const whole = words => words.split(/(?<=\\.) /).flatMap(sentence => {
  const kept = document.createElement("span");
  kept.textContent = sentence;
  return [kept, " "];
});
const fit = () => {
  const said = at("said"), root = document.documentElement;
  let size = Math.min(innerWidth, innerHeight) / 4;
  do {
    said.style.fontSize = `${size}px`;
    size *= 0.93;
  } while (size > 28 && (said.scrollWidth > said.clientWidth ||
    root.scrollHeight > innerHeight || root.scrollWidth > innerWidth));
};
addEventListener("resize", fit);
let reached = true, arrived = true, over = false, quiet_s = 5, news, watch;
const notice = () => {
  const words = over ? "The call is over. You can close this page." :
    !reached ? "Not connected. What you see may be old. Trying again." :
    !arrived ? "Your words did not arrive. Send them again." : "";
  if (at("notice").textContent !== words) at("notice").textContent = words;
  at("notice").hidden = !words;
  fit();
};
const heard = () => {
  clearTimeout(watch);
  watch = setTimeout(again, 2500 * quiet_s);
  if (!reached) {
    reached = true;
    notice();
  }
};
const shown = told => {
  const now = JSON.parse(told.data);
  heard();
  const said = typeset(now.said);
  if (at("said").textContent !== said) at("said").textContent = said;
  at("where").replaceChildren(...whole(now.where));
  at("drawings").hidden = !(now.ring || now.piece);
  drawn("ring", now.ring);
  drawn("piece", now.piece);
  fit();
};
const open = () => {
  news = new EventSource("news");
  watch = setTimeout(again, 2500 * quiet_s);
  news.addEventListener("alive", told => { quiet_s = Number(told.data); heard(); });
  news.addEventListener("message", shown);
  news.addEventListener("over", () => {
    over = true;
    clearTimeout(watch);
    news.close();
    if (at("typed")) at("typed").hidden = true;
    notice();
  });
  news.addEventListener("error", () => {
    reached = false;
    clearTimeout(watch);
    watch = setTimeout(again, news.readyState === EventSource.CLOSED ? 1000 : 2500 * quiet_s);
    notice();
  });
};
const again = () => {
  reached = false;
  news.close();
  open();
  notice();
};
open();
at("typed")?.addEventListener("submit", async event => {
  event.preventDefault();
  const field = at("words"), words = field.value;
  field.value = "";
  try {
    const sent = await fetch("words", {method: "POST", body: words,
      headers: {"Content-Type": "text/plain"}});
    arrived = sent.ok;
  } catch {
    arrived = false;
  }
  if (!arrived) field.value ||= words;
  notice();
});
"""

_FIELD = (
    '<form id="typed" autocomplete="off"><label for="words">Your words</label>'
    '<input id="words" name="words" autofocus maxlength="500"></form>'
)


def page(*, typed: bool) -> str:
    """The page; with `typed` it has a field for words."""
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        "<title>Rounds Aloud: the page beside you</title>"
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<style>{STYLE}</style></head>\n<body><main><h1>The page beside you</h1>"
        '<div><p id="notice" role="alert" hidden></p>'
        '<p id="said" role="status" aria-live="polite" aria-atomic="true"></p></div>'
        '<p id="where"></p>'
        '<div id="drawings" hidden><div id="ring"></div><div id="piece"></div></div>'
        f"{_FIELD if typed else ''}</main><script>{SCRIPT}</script></body></html>\n"
    )


def _hashed(text: str) -> str:
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"


POLICY = (
    f"default-src 'none'; style-src {_hashed(STYLE)}; script-src {_hashed(SCRIPT)}; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""The page's content security policy. Source: W3C Content Security Policy Level 3."""
