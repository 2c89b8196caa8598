"""Templates to a page: one file, a policy that lets nothing in, and no names taken for markup.

The only module that knows Jinja2. Whatever is put into a template is escaped, unless it was made
here as markup. The policy names the style and the script by their digests; nothing else applies.
"""

from __future__ import annotations

import base64
import hashlib
import re
from functools import cache
from pathlib import Path

import jinja2
import msgspec
from markupsafe import Markup

_HERE = Path(__file__).resolve().parent
_PLACE = "shutproof-content-policy"
_STYLE = re.compile(r"<style[^>]*>(.*?)</style>", re.DOTALL)


@cache
def _environment() -> jinja2.Environment:
    made = jinja2.Environment(
        loader=jinja2.FileSystemLoader(_HERE / "templates"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.globals["asset"] = asset
    return made


@cache
def asset(name: str) -> Markup:
    """A style or a script that travels with the package."""
    return Markup((_HERE / "assets" / name).read_text(encoding="utf-8"))


def data(value: object) -> Markup:
    """JSON that can stand inside a script element: nothing in it ends the element."""
    text = msgspec.json.encode(value).decode()
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return Markup(text)


def page(template: str, **content: object) -> bytes:
    """The whole page in UTF-8. The same content gives the same bytes."""
    text = _environment().get_template(template).render(policy=_PLACE, **content)
    return text.replace(_PLACE, _policy(text), 1).encode()


def _policy(text: str) -> str:
    """Nothing may be fetched, sent or framed; styles and scripts are those written in the page."""
    styles = " ".join(dict.fromkeys(map(_digest, _STYLE.findall(text))))
    script = _digest(str(asset("page.js")))
    return (
        f"default-src 'none'; style-src {styles}; script-src {script}; "
        "base-uri 'none'; form-action 'none'"
    )


def _digest(text: str) -> str:
    found = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
    return f"'sha256-{found}'"
