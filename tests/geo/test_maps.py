"""Maps as single files: what the page holds, what it refuses, how its colors fare, how small it is."""

import json
import re
from html.parser import HTMLParser
from itertools import combinations, pairwise

import geopandas as gpd
import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geo.maps import MapClass, MapPage, draw_blocks, draw_places
from geo.maps.packing import pack_codes, pack_column, pack_numbers, pack_shapes
from geo.maps.palette import PALETTE, SHADES, SHARE_CLASSES

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
HOSTILE = "</script><script>window.hacked=1</script><img src=x onerror=window.hacked=1>{{7*7}}`${window.hacked=1}`"
PAGE = MapPage(title="Alder Flat", intro="2 of 3 homes have answered.", synthetic=True, data_date="25 November 2026")

# Full severity, for linear RGB: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A physiologically-based
# model for simulation of color vision deficiency", IEEE TVCG 15(6), 2009, table 1 (figures from memory;
# a test below checks that each row keeps a grey grey).
MACHADO = {
    "protanopia": [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
    "deuteranopia": [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
    "tritanopia": [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]],
}


def lots(n: int) -> gpd.GeoDataFrame:
    """`n` simple lots of four corners in rows, 20 by 33 m."""
    i, j = np.arange(n) % 50, np.arange(n) // 50
    x, y = -87.1 + i * 0.00025, 43.6 + j * 0.0004
    return gpd.GeoDataFrame(geometry=shapely.box(x, y, x + 0.00025, y + 0.0003), crs=4326)


def six_fields(n: int) -> list[tuple[str, list[str]]]:
    """Six texts a home of the variety a survey has: an address each, ages, months, words."""
    rng = np.random.default_rng(5)
    streets = ["Alder Ct", "Birch Ln", "Cedar Way", "Dogwood Loop", "Elder St"]
    months = [f"{m} {y}" for y in range(2004, 2030) for m in ("Jan", "Mar", "Jun", "Sep", "Nov")]
    pick = lambda words: [words[k] for k in rng.integers(len(words), size=n)]  # noqa: E731
    return [
        ("Address", [f"{100 + 4 * (k % 50)} {streets[k // 50 % 5]} {k // 250 + 1}" for k in range(n)]),
        ("Stands", pick(["In warranty", "Past its warranty", "Past twice its warranty", ""])),
        ("Age", [f"{a} years" for a in rng.integers(1, 25, size=n)]),
        ("Warranty end", pick(months)),
        ("Last maintenance", pick([*months, "none known"])),
        ("Rests on", pick(["data plate", "permit or invoice", "house completion", "memory", ""])),
    ]


def drawn(n: int, **changes: object) -> str:
    """A page of `n` lots, with any argument changed."""
    fields = six_fields(n)
    keys = [PALETTE[k % 5].key for k in range(n)]
    arguments = {
        "class_of": keys, "classes": PALETTE, "fields": fields, "search_labels": fields[0][1], "page": PAGE, **changes
    }  # fmt: skip
    return draw_places(lots(n), **arguments)


class Links(HTMLParser):
    """Collects every attribute that could fetch something, and every event handler."""

    def __init__(self) -> None:
        super().__init__()
        self.fetching: list[str] = []
        self.handlers: list[str] = []
        self.tags: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note what an element would fetch or run."""
        self.tags.append(tag)
        for name, value in attrs:
            if name in ("src", "href", "srcset", "data", "poster", "action", "background"):
                self.fetching.append(value or "")
            if name.startswith("on"):
                self.handlers.append(name)


def read(html: str) -> Links:
    """The page as a parser sees it."""
    links = Links()
    links.feed(html)
    return links


def data_of(html: str) -> dict:
    """What the page hands to its script."""
    return json.loads(re.search(r'<script type="application/json" id="data">(.*?)</script>', html, re.DOTALL)[1])


def unpacked(text: str) -> list[int]:
    """The other half of ``pack_numbers``, written from its description."""
    out, value, shift = [], 0, 0
    for letter in text:
        digit = LETTERS.index(letter)
        value |= (digit & 31) << shift
        shift += 5
        if not digit & 32:
            out.append(value // 2 if value % 2 == 0 else -(value + 1) // 2)
            value = shift = 0
    return out


def test_page_is_byte_for_byte_the_same_when_drawn_twice():
    """No random id or date of making is in the page."""
    assert drawn(60) == drawn(60)


def test_page_names_no_outside_file():
    """Nothing in the page can fetch: no src or href but data: and #, no @import, no url() in a style."""
    html = drawn(60)
    assert [link for link in read(html).fetching if not link.startswith(("data:", "#"))] == []
    styles = "".join(re.findall(r"<style>(.*?)</style>", html, re.DOTALL))
    assert styles
    assert "url(" not in styles
    assert "@import" not in styles
    assert "sourceMappingURL" not in html


def test_policy_allows_only_the_pages_own_scripts():
    """The policy has no 'unsafe-inline' and no host, and names one hash a script."""
    html = drawn(60)
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', html)[1]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy
    assert len(re.findall(r"'sha256-", re.search(r"script-src ([^;]*)", policy)[1])) == html.count("<script>")


def test_hostile_text_in_every_place_stays_text():
    """A breakout in each text argument adds no element or handler, and no template language reads it."""
    n = 3
    plain, hostile = [], []
    for word, into in (("calm", plain), (HOSTILE, hostile)):
        texts = [word] * n
        streets = gpd.GeoDataFrame(
            {"name": [word], "kind": ["road"]}, geometry=[shapely.LineString([(-87.1, 43.6), (-87.09, 43.6)])], crs=4326
        )
        blocks = lots(2).assign(block=[word, word], label=[word, word], shade=["k", "k"])
        own = [MapClass(key="k", label=word, fill="#FFFFFF", outline="#000000", letter=word)]
        html = draw_places(
            lots(n), class_of=["k"] * n, classes=own, fields=[(word, texts), ("b", texts)], search_labels=texts,
            page=MapPage(title=word, intro=word, notes=(word,), synthetic=False, data_date=word),
            streets=streets, blocks=blocks, block_layer_label=word, block_classes=own, layer_label=word,
        )  # fmt: skip
        into.append(html)
    calm, wild = read(plain[0]), read(hostile[0])
    assert wild.tags == calm.tags
    assert wild.handlers == []
    assert "{{7*7}}" in hostile[0]
    assert data_of(hostile[0])["streets"]["names"]["d"] == [HOSTILE]


def test_half_a_surrogate_pair_does_not_stop_the_page():
    """Broken text from a broken file still gives a page that UTF-8 can carry."""
    html = drawn(1, fields=[("Address", ["1 \ud83d Ct"])], search_labels=None)
    assert html.encode("utf-8")


def test_empty_frames_give_a_page_that_says_so():
    """No homes is no error: the page tells what to do, with title, date and synthetic band."""
    nothing = gpd.GeoDataFrame(geometry=[], crs=4326)
    places = draw_places(nothing, class_of=[], classes=PALETTE, fields=[], search_labels=[], page=PAGE)
    areas = draw_blocks(nothing, class_of=[], classes=PALETTE, fields=[], page=PAGE)
    assert "There are no homes to show yet" in places
    assert "There are no areas to show yet" in areas
    for html in (places, areas):
        assert "Alder Flat" in html
        assert "25 November 2026" in html
        assert "Synthetic" in html
        assert "<script" not in html


def test_missing_geometry_keeps_its_row():
    """A home without an outline is drawn nowhere and still in the data, so that search and list have it."""
    frame = lots(3)
    frame.loc[1, "geometry"] = None
    html = draw_places(
        frame, class_of=["pale"] * 3, classes=PALETTE, fields=[("Address", ["1 A", "2 A", "3 A"])],
        search_labels=["1 A", "2 A", "3 A"], page=PAGE,
    )  # fmt: skip
    shapes = data_of(html)["sets"][0]["shapes"]
    assert shapes["n"] == 3
    assert unpacked(shapes["r"]) == [1, 0, 1]


def test_public_page_holds_only_what_it_was_given():
    """The page of areas has one set, no search and no house numbers."""
    blocks = lots(2)
    html = draw_blocks(blocks, class_of=["shade0", "not shown"], classes=SHARE_CLASSES,
                       fields=[("Streets", ["Alder Ct", "Birch Ln"])], page=PAGE)  # fmt: skip
    data = data_of(html)
    assert len(data["sets"]) == len(data["views"]) == 1
    assert not data["sets"][0]["numbered"]
    assert 'id="search"' not in html


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"class_of": ["pale"]}, "1 classes"),
        ({"class_of": ["nowhere"] * 4}, "“nowhere”"),
        ({"classes": [PALETTE[0], PALETTE[0]]}, "each key once"),
        ({"search_labels": ["1 A"]}, "search_labels holds 1"),
        ({"fields": [("Age", ["1"])]}, "The field “Age” holds 1"),
        ({"blocks": lots(1)}, "block, label, shade"),
        ({"streets": lots(1)}, "name, kind"),
        ({"classes": [MapClass(key="pale", label="", fill="red", outline="#000000")]}, "“red” is not a color"),
        (
            {"classes": [MapClass(key="pale", label="", fill="#FFFFFF", outline="#000000", pattern="waves")]},
            "“waves”",
        ),
    ],
)
def test_arguments_that_do_not_fit_are_refused_with_a_sentence(changes, words):
    """Each misfit is named in a ValueError."""
    with pytest.raises(ValueError, match=re.escape(words)):
        drawn(4, **changes)


def test_all_faults_are_told_at_once():
    """Two faults, two sentences, one error."""
    with pytest.raises(ValueError, match=r"(?s)search_labels.*streets lacks|streets lacks.*search_labels"):
        drawn(4, search_labels=[], streets=lots(1))


def test_frames_not_in_degrees_are_refused():
    """A projected frame, one without a system, and feet called degrees are each told apart from a map."""
    for frame in (lots(2).to_crs(32616), gpd.GeoDataFrame(geometry=list(lots(2).geometry))):
        with pytest.raises(ValueError, match="EPSG:4326"):
            draw_blocks(frame, class_of=["pale"] * 2, classes=PALETTE, fields=[], page=PAGE)
    feet = gpd.GeoDataFrame(geometry=[shapely.box(1e6, 1e6, 1e6 + 1, 1e6 + 1)], crs=4326)
    with pytest.raises(ValueError, match="cannot show"):
        draw_blocks(feet, class_of=["pale"], classes=PALETTE, fields=[], page=PAGE)


@given(st.lists(st.integers(-(2**29) + 1, 2**29 - 1), max_size=80))
def test_numbers_packed_are_read_back(numbers):
    """Packing loses nothing, for any whole numbers in its range."""
    assert unpacked(pack_numbers(numbers)) == numbers


def test_numbers_too_large_to_pack_are_refused():
    """What 32-bit arithmetic in the page could not hold is refused, not wrapped."""
    with pytest.raises(ValueError, match="too large"):
        pack_numbers([2**29])


@settings(max_examples=60)
@given(st.lists(st.one_of(st.text(max_size=6), st.integers(0, 99999).map(lambda k: f"{k} Alder Ct")), max_size=40))
def test_columns_packed_are_read_back(texts):
    """A column is rebuilt exactly, whichever of the two ways was shorter."""
    packed = pack_column(texts)
    codes = [0] * len(texts)
    if packed["w"]:
        w = packed["w"]
        for i in range(len(texts)):
            for letter in packed["k"][i * w : (i + 1) * w]:
                codes[i] = codes[i] * 64 + LETTERS.index(letter)
    heads = np.cumsum(unpacked(packed["n"])) if "n" in packed else np.zeros(len(texts), dtype=int)
    again = [(str(h - 1) if h > 0 else "") + packed["d"][c] for h, c in zip(heads, codes, strict=True)]
    assert again == texts


def test_codes_take_as_many_letters_as_they_need():
    """One kind needs no letter, 64 one, 65 two."""
    assert [pack_codes([0], kinds)[1] for kinds in (1, 2, 64, 65, 4096, 4097)] == [0, 1, 1, 2, 2, 3]


def test_corners_come_back_within_a_millionth_of_a_degree():
    """The packed corners, summed up again, lie where the lots' corners lie, holes included."""
    holed = shapely.Polygon(
        [(-87.1, 43.6), (-87.099, 43.6), (-87.099, 43.601), (-87.1, 43.601)],
        [[(-87.0997, 43.6003), (-87.0997, 43.6006), (-87.0994, 43.6006)]],
    )
    frame = gpd.GeoSeries([*lots(3).geometry, holed], crs=4326)
    packed = pack_shapes(frame)
    steps = np.reshape(unpacked(packed["c"]), (-1, 2))
    rings, start, at = [], np.zeros(2, dtype=int), 0
    for corners in unpacked(packed["v"]):
        start = start + steps[at]
        rings.append(np.vstack([start, start + np.cumsum(steps[at + 1 : at + corners], axis=0)]) / 1e6)
        at += corners
    assert unpacked(packed["r"]) == [1, 1, 1, 2]
    again = [shapely.Polygon(r) for r in rings[:3]] + [shapely.Polygon(rings[3], [rings[4]])]
    for was, now in zip(frame, again, strict=True):
        assert shapely.hausdorff_distance(was, now) < 1e-6


def test_simple_lots_take_at_most_a_hundred_bytes_each():
    """Six fields a home: the whole page stays within 100 bytes a home and 180 kB, from 1,000 homes up."""
    for n in (1000, 5000):
        assert len(drawn(n).encode()) <= 100 * n + 180_000


def linear(color: str) -> np.ndarray:
    """Linear RGB of a color (IEC 61966-2-1)."""
    c = np.array([int(color[k : k + 2], 16) for k in (1, 3, 5)]) / 255
    return np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)


def lab(rgb: np.ndarray) -> np.ndarray:
    """CIE L*a*b* (D65) of linear sRGB (IEC 61966-2-1 matrix)."""
    xyz = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]) @ np.clip(rgb, 0, 1)
    t = xyz / np.array([0.9505, 1.0, 1.089])
    f = np.where(t > (6 / 29) ** 3, np.cbrt(t), t / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


@pytest.mark.parametrize("eye", MACHADO)
def test_simulation_of_an_eye_keeps_greys_grey(eye):
    """Each row of a matrix sums to one, which guards the figures against a slip of the pen."""
    assert np.array(MACHADO[eye]).sum(axis=1) == pytest.approx([1, 1, 1], abs=5e-6)


@pytest.mark.parametrize("eye", MACHADO)
def test_fills_stay_apart_for_eyes_with_a_deficiency(eye):
    """Any two fills of a scheme differ by more than ten units of CIE L*a*b* (two to three are just seen)."""
    matrix = np.array(MACHADO[eye])
    for scheme in ([c.fill for c in PALETTE], SHADES):
        for one, other in combinations(scheme, 2):
            apart = np.linalg.norm(lab(matrix @ linear(one)) - lab(matrix @ linear(other)))
            assert apart > 10, (one, other, apart)


def test_order_is_kept_in_grey():
    """Lightness falls by at least ten units of L* from class to class, so a grey print keeps the order."""
    for scheme in ([c.fill for c in PALETTE[:3]], SHADES):
        lightness = [lab(linear(fill))[0] for fill in scheme]
        assert all(a - b >= 10 for a, b in pairwise(lightness)), lightness


def test_every_class_has_a_second_cue_of_its_own():
    """No two classes share a pattern; shades of areas carry their rank as a letter."""
    assert len({c.pattern for c in PALETTE}) == len(PALETTE)
    assert [c.letter for c in SHARE_CLASSES[:5]] == ["1", "2", "3", "4", "5"]
