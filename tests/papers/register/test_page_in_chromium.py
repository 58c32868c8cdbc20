"""The register's page in headless Chromium: at two widths, by keyboard alone, without an error on the console.

Skipped where Chromium is missing; `.ci/run` installs it, and says so where it cannot.
"""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from estimator.papers.register import RefusedRow, register_page
from tests.papers.register.browser import CHROMIUM, Browser
from tests.papers.register.test_register import EVIL, JOBS, row

pytestmark = pytest.mark.skipif(
    CHROMIUM is None,
    reason="NOT CHECKED: Chromium is not installed, so nobody looked at the register's page",
)
WIDTHS = {"telephone": 390, "desktop": 1280}
ROWS = (*JOBS, row('odd "#?% name', client=EVIL, remarks=("a shelf sags",), status="lost"))
VISIBLE = "[...document.querySelectorAll('#list tbody tr')].filter(r => !r.hidden).map(r => r.cells[0].textContent.trim().split(' ')[0])"


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("register") / "index.html"
    file.write_bytes(b"".join(register_page(ROWS, [RefusedRow("bad.xlsx", "no width", 2)])))
    return file


@pytest.fixture(scope="module", params=sorted(WIDTHS))
def browser(request: pytest.FixtureRequest, page: Path) -> Iterator[Browser]:
    with Browser(width=WIDTHS[request.param]) as browser:
        browser.open(page)
        yield browser


@pytest.fixture(autouse=True)
def _fresh(browser: Browser, page: Path) -> None:
    browser.open(page)


def test_nothing_is_said_on_the_console_and_nothing_is_asked_for(browser: Browser) -> None:
    browser.value("new Promise(done => setTimeout(done, 100))")
    assert browser.said == []
    assert all(address.startswith(("file:", "data:", "about:")) for address in browser.asked)


def test_the_page_is_no_wider_than_the_window(browser: Browser) -> None:
    assert browser.value("document.documentElement.scrollWidth <= window.innerWidth")


def test_tab_reaches_everything_that_can_be_used_and_it_shows(browser: Browser) -> None:
    usable = browser.value(
        "[...document.querySelectorAll('a[href], button, input, select, summary, [tabindex=\"0\"]')]"
        ".filter(one => one.checkVisibility({visibilityProperty: true}) && one.closest('thead')?.getBoundingClientRect().width !== 1).length"
    )
    seen = []
    for _ in range(usable + 40):
        browser.press("Tab")
        there = browser.value(
            "(() => { const one = document.activeElement; if (one === document.body) return null;"
            " window.order ??= []; if (!window.order.includes(one)) window.order.push(one);"
            " const look = getComputedStyle(one); return [window.order.indexOf(one), look.outlineStyle, parseFloat(look.outlineWidth)]; })()"
        )
        if there is None or (seen and there[0] == 0 and len({one[0] for one in seen}) > 1):
            break
        seen.append(there)
    assert len({one[0] for one in seen}) >= usable
    assert all(style != "none" and width >= 2 for _, style, width in seen)


def test_the_first_tab_is_a_way_past_the_head(browser: Browser) -> None:
    browser.press("Tab")
    assert browser.value("document.activeElement.className") == "skip"
    browser.press("Enter")
    assert browser.value("location.hash") == "#jobs"


def test_sorted_by_keyboard(browser: Browser) -> None:
    """A heading's button on the desktop, a list on the telephone, where the headings are not to be seen."""
    if browser.value("getComputedStyle(document.querySelector('.sorter')).display") == "none":
        browser.value("document.querySelector('#list thead th:nth-child(5) button').focus()")
        browser.press("Enter")
        assert browser.value("document.querySelector('[aria-sort]').textContent") == "Total with tax"
        assert browser.value("document.querySelector('[aria-sort]').getAttribute('aria-sort')") == "descending"
        assert browser.value(VISIBLE)[0] == "loft"
        browser.press(" ")
        assert browser.value("document.querySelector('[aria-sort]').getAttribute('aria-sort')") == "ascending"
    else:
        browser.value("{ const list = document.getElementById('sort'); list.value = '4 ascending'; list.dispatchEvent(new Event('change')); }")
    assert browser.value(VISIBLE)[0] == "bath"
    assert browser.value("document.querySelectorAll('[aria-sort]').length") == 1


def test_found_by_typing_and_the_sums_follow(browser: Browser) -> None:
    browser.value("document.getElementById('words').focus()")
    browser.write("hall")
    assert browser.value(VISIBLE) == ["hall"]
    assert browser.value("document.getElementById('told').textContent") == "1 of 5 jobs shown, together 2,400.05 EUR with tax."
    browser.value("document.querySelector('#tools button').focus()")
    browser.press("Enter")
    browser.value("new Promise(done => setTimeout(done, 50))")
    assert len(browser.value(VISIBLE)) == 5
    assert browser.value("document.getElementById('told').textContent") == (
        "5 of 5 jobs shown, together 4,800.15 EUR; 150,000 JPY with tax."
    )


def test_a_name_runs_no_script(browser: Browser) -> None:
    assert browser.value("document.scripts.length") == 1
    assert browser.value(f"document.body.textContent.includes({EVIL!r})")


def test_a_screen_reader_meets_tables_with_names(browser: Browser) -> None:
    met = browser.names_for_a_screen_reader()
    assert ("table", "One row a job, the newest quote first. Money is in the job's own currency.") in met
    assert sum(role == "rowheader" for role, _ in met) >= len(ROWS)
    assert ("link", "quote of hall") in met
    assert all(name for role, name in met if role in ("button", "link", "combobox", "searchbox", "image", "figure", "DisclosureTriangle"))


@pytest.mark.parametrize("dark", [False, True])
def test_text_stands_out_from_its_ground(page: Path, dark: bool) -> None:
    """At least 4.5 to 1 for text (WCAG 2.2, success criterion 1.4.3), in the light and in the dark."""
    with Browser(dark=dark) as browser:
        browser.open(page)
        weakest = browser.value(
            """(() => {
              const part = c => { c /= 255; return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4; };
              const light = t => { const [r, g, b] = t.match(/[\\d.]+/g).map(Number); return 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b); };
              const clear = t => /rgba\\(.*, 0\\)|transparent/.test(t);
              let least = [99, ''];
              for (const one of document.querySelectorAll('body *')) {
                if (!one.textContent.trim() || ['SCRIPT', 'STYLE', 'OPTION'].includes(one.tagName)) continue;
                let under = one;
                while (under && clear(getComputedStyle(under).backgroundColor)) under = under.parentElement;
                const look = getComputedStyle(one), ink = one.closest('svg') ? look.fill : look.color;
                if (one.closest('svg') && one.tagName !== 'text') continue;
                const [a, b] = [light(ink), light(getComputedStyle(under ?? document.body).backgroundColor)];
                const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
                if (ratio < least[0]) least = [ratio, one.tagName + ' ' + one.className];
              }
              return least;
            })()"""
        )
    assert weakest[0] >= 4.5, weakest


def test_a_picture_can_be_taken(browser: Browser, tmp_path: Path) -> None:
    """For whoever wants to look: PICTURES_IN names a folder in which they stay."""
    folder = Path(os.environ.get("PICTURES_IN", tmp_path))
    width = browser.value("window.innerWidth")
    browser.picture(folder / f"register-{width}.png")
    assert (folder / f"register-{width}.png").stat().st_size > 20_000
