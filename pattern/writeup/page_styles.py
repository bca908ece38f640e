"""The styles of a page: its colours, and regular and large print."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Colours:
    """The colours of a page, as WCAG's formula reads them."""

    ink: str
    paper: str
    shade: str
    """Fill of table heads and of bands in charts."""
    accent: str

    @property
    def variables(self) -> str:
        """The colours as custom properties."""
        named = ("ink", "paper", "shade", "accent")
        return " ".join(f"--{name}: {getattr(self, name)};" for name in named)


LIGHT = Colours("#1a1a1a", "#ffffff", "#ece7e4", "#7d2a14")
DARK = Colours("#f0ece9", "#171412", "#352f2b", "#ffb59e")
"""Every ink on every ground has a contrast of 7:1 at the least (WCAG 2.2, 1.4.6)."""

_BOTH = f"""
:root {{ color-scheme: light dark; {LIGHT.variables} }}
@media screen and (prefers-color-scheme: dark) {{ :root {{ {DARK.variables} }} }}
html {{ color: var(--ink); background: var(--paper); font-family: system-ui, sans-serif;
  -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }}
body {{ margin: 0; }}
main {{ margin: 0 auto; overflow-wrap: break-word; }}
a {{ color: inherit; text-decoration: underline; }}
:focus-visible {{ outline: 4px solid var(--ink); outline-offset: 2px; }}
.wide {{ overflow-x: auto; margin: 0 0 1em; }}
table {{ border-collapse: collapse; overflow-wrap: normal; }}
caption {{ text-align: left; font-weight: bold; padding: 0.25em 0; }}
th, td {{ text-align: left; vertical-align: top; }}
figure {{ margin: 0; }}
svg {{ display: block; max-width: 100%; height: auto; }}
.steps {{ list-style: none; padding-left: 0; }}
.count {{ white-space: nowrap; }}
dd {{ margin: 0; }}
@media print {{
  html {{ print-color-adjust: exact; }}
  nav {{ display: none; }}
  .wide {{ overflow: visible; }}
  table, p, li, tr, figure, dl > div, .drawn {{ break-inside: avoid; }}
  p, li {{ orphans: 3; widows: 3; }}
  h1, h2, h3, h4, h5, h6, caption, figcaption {{ break-after: avoid; }}
  thead {{ display: table-header-group; }}
}}
"""

LARGE_STYLE = f"""{_BOTH}
html {{ font-size: 18pt; line-height: 1.5; }}
main {{ max-width: 44ch; padding: 1rem; }}
h1, h2, h3, h4, h5, h6 {{ line-height: 1.25; margin: 1.5em 0 0.5em; }}
h1 {{ font-size: 1.6rem; margin-top: 0; }}
h2 {{ font-size: 1.35rem; border-top: 2px solid var(--ink); padding-top: 0.5em; }}
h3, h4, h5, h6 {{ font-size: 1.15rem; }}
p, dl {{ margin: 0 0 0.75em; }}
ul, ol {{ margin: 0 0 0.75em; padding-left: 1.5em; }}
li, dl > div {{ margin-bottom: 0.5em; }}
dt, .rounds {{ font-weight: bold; }}
nav li {{ padding: 0.2em 0; }}
th, td {{ border: 1px solid var(--ink); padding: 0.35em 0.5em; }}
thead th {{ background: var(--shade); }}
figure {{ margin: 0 0 1.5em; }}
figcaption {{ font-weight: bold; margin-bottom: 0.5em; }}
svg {{ width: 100%; }}
@media (max-width: 30em) {{
  main {{ padding: 0.5rem; }}
  h1 {{ font-size: 1.3rem; }}
  h2 {{ font-size: 1.2rem; }}
  ul, ol {{ padding-left: 1.1em; }}
  .steps {{ padding-left: 0; }}
}}
@page {{ margin: 18mm; }}
@media print {{
  main {{ max-width: none; padding: 0; }}
  svg {{ width: 127mm; max-width: 100%; }}
}}
"""
"""Widths are fixed only in print, where the text in pictures is 18 pt too. `@page` leaves the paper
size, A4 or Letter, to the printer. Large print is at least 18 pt (common practice of libraries for
the blind, from memory)."""

REGULAR_STYLE = f"""{_BOTH}
html {{ font-size: 100%; line-height: 1.45; }}
main {{ max-width: 46rem; padding: 2rem 1.5rem; }}
.kind {{ margin: 0; color: var(--accent); font-weight: bold; }}
h1 {{ font-size: 2.4rem; line-height: 1.1; letter-spacing: -0.015em; margin: 0.15em 0 0.3em; }}
.about {{ font-size: 1.1rem; margin: 0 0 1.4em; max-width: 40em; }}
h2 {{ font-size: 1.1rem; line-height: 1.3; margin: 0; color: var(--accent); }}
h3, h4, h5, h6 {{ font-size: 1rem; line-height: 1.45; margin: 0; }}
p, ul, ol, dl {{ margin: 0 0 0.6em; }}
ul, ol {{ padding-left: 1.2em; }}
li {{ margin-bottom: 0.25em; }}
section.part {{ border-top: 1px solid var(--accent); padding: 0.7em 0 0.5em; }}
section.part > section {{ margin-top: 0.7em; }}
.opening > h2, .opening figcaption, .drawn figcaption {{ position: absolute; width: 1px;
  height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }}
dl > div {{ display: grid; grid-template-columns: 5.8em minmax(0, 1fr); column-gap: 0.6em;
  margin-bottom: 0.3em; }}
dt, .rounds {{ font-weight: bold; }}
.steps li {{ padding-left: 1.5em; text-indent: -1.5em; margin-bottom: 0.2em; }}
th, td {{ border-bottom: 1px solid var(--ink); padding: 0.25em 1em 0.25em 0; }}
thead th {{ border-bottom-width: 2px; }}
figure {{ margin: 0.6em 0 1em; }}
figcaption {{ font-weight: bold; margin-bottom: 0.4em; }}
.broad {{ display: none; }}
.narrow {{ width: 100%; }}
@media (max-width: 30em) {{
  main {{ padding: 1rem 0.5rem; }}
  svg {{ width: 100%; }}
}}
@media print, (min-width: 40em) {{
  .broad {{ display: block; }}
  .narrow {{ display: none; }}
  section {{ position: relative; }}
  section > .body {{ margin-left: 11rem; min-height: 2.7em; }}
  section > .beside {{ position: absolute; left: 0; width: 9.6rem; }}
  .opening > .body {{ margin-left: 0; }}
  .opening dl, .part > .body > dl:first-child {{ columns: 2; column-gap: 2rem; }}
}}
@page {{ margin: 16mm 18mm 18mm; @bottom-right {{ content: counter(page) " / " counter(pages);
  font: 9pt system-ui, sans-serif; }} }}
@media print {{
  html {{ font-size: 10pt; line-height: 1.4; }}
  main {{ max-width: none; padding: 0; }}
}}
"""
"""Headings stand in a narrow column at the left, so that lines stay short enough to read."""
