"""Charts, cycles and leaks as documents."""

from pathlib import Path

import pytest

import zeotrope


def test_a_chart_shows_itself_in_a_notebook() -> None:
    chart = zeotrope.chart("R-454B", from_K=253.15, to_K=293.15, step_K=10)
    page = chart._repr_html_()
    assert page.startswith('<div class="zeotrope">') and "R-454B" in page
    # a part of a page, with a style for itself alone
    assert "<html" not in page and "body{" not in page and ":root{" not in page
    assert "flammable" in page
    picture = chart._repr_svg_()
    assert picture is not None and picture.startswith("<svg") and "flammable" in picture
    assert "R-454B" in str(chart) and "flammable" in str(chart)
    assert chart._repr_markdown_() == chart.markdown()


def test_its_cells_are_what_the_lines_answer() -> None:
    chart = zeotrope.chart("R-454B", temperatures_K=[273.15, 293.15])
    cells = chart.data["rows"][0]["cells"]
    assert [cell["pressure_Pa"] for cell in cells] == [
        zeotrope.bubble_pressure_Pa("R-454B", 273.15),
        zeotrope.dew_pressure_Pa("R-454B", 273.15),
    ]


def test_a_file_appears_in_the_format_of_its_ending(tmp_path: Path) -> None:
    chart = zeotrope.chart("R-454B", "R-32", units="ip", form="wallet")
    for ending, begins in {
        "pdf": b"%PDF",
        "svg": b"<svg",
        "html": b"<!DOCTYPE",
        "csv": b"",
        "json": b"{",
        "md": b"",
        "txt": b"",
    }.items():
        path = tmp_path / f"card.{ending}"
        chart.save(path)
        assert path.read_bytes().startswith(begins) and path.stat().st_size > 300
    assert sorted(path.suffix for path in tmp_path.iterdir()) == sorted(
        [".pdf", ".svg", ".html", ".csv", ".json", ".md", ".txt"]
    )
    with pytest.raises(FileExistsError, match="overwrite"):
        chart.save(tmp_path / "card.pdf")
    chart.save(str(tmp_path / "card.pdf"), overwrite=True)
    with pytest.raises(ValueError, match="docx"):
        chart.save(tmp_path / "card.docx")
    with pytest.raises(OSError):
        chart.save(tmp_path / "no" / "card.pdf")


@pytest.mark.parametrize(
    ("arguments", "text"),
    [
        ({"from_K": 250.0}, "from_K and to_K"),
        ({"units": "cgs"}, "units"),
        ({"form": "poster"}, "form"),
        ({"paper": "a5"}, "paper"),
        ({"picture": "cube"}, "picture"),
        ({"form": "wallet", "landscape": True}, "landscape"),
    ],
)
def test_what_a_chart_cannot_be(arguments: dict[str, object], text: str) -> None:
    with pytest.raises(ValueError, match=text):
        zeotrope.chart("R-134a", **arguments)


def test_a_chart_of_nothing() -> None:
    with pytest.raises(ValueError, match="at least one"):
        zeotrope.chart()
    with pytest.raises(zeotrope.UnknownRefrigerant):
        zeotrope.chart("R-000")
    with pytest.raises(zeotrope.NoState):
        zeotrope.chart("R-134a", temperatures_K=[500.0])


def test_pictures() -> None:
    for kind, rows in (("curves", {}), ("dome", {}), ("lens", {"pressures_Pa": [5e5]})):
        names = ["R-454B"]
        drawn = zeotrope.chart(*names, picture=kind, **rows)
        assert (drawn._repr_svg_() or "").startswith("<svg")


def test_a_cycle() -> None:
    cycle = zeotrope.cycle(
        "R-407C",
        evaporating_K=273.15,
        evaporating_at="dew",
        condensing_K=313.15,
        condensing_at="bubble",
        superheat_K=5,
        subcooling_K=3,
        efficiency=0.7,
    )
    # a general-purpose open library gives 3.325
    assert cycle.data["results"][0]["cop_cooling"] == pytest.approx(3.325, abs=0.001)
    assert "R-407C" in cycle._repr_html_() and (cycle._repr_svg_() or "").startswith("<svg")
    rows = zeotrope.cycle("R-290", evaporating_K=268.15, condensing_K=[303.15, 313.15, 323.15])
    assert len(rows.data["results"]) == 3
    hot = zeotrope.cycle(
        "R-744", evaporating_K=265.15, gas_cooler_outlet_K=308.15, efficiency=0.7
    )
    assert hot.data["results"][0]["condensing_pressure_Pa"] > 7.4e6
    with pytest.raises(ValueError, match="condensing_K"):
        zeotrope.cycle("R-134a", evaporating_K=273.15)
    with pytest.raises(ValueError, match="not both"):
        zeotrope.cycle(
            "R-134a", evaporating_K=273.15, condensing_K=313.15, superheat_K=1, suction_K=280
        )
    with pytest.raises(zeotrope.NoAnswer):
        zeotrope.cycle("R-134a", evaporating_K=273.15, condensing_K=313.15, efficiency=2)


def test_leak_and_draw() -> None:
    leak = zeotrope.leak("R-407C", temperature_K=297.0, lost=[0.1, 0.3, 0.5])
    rows = leak.data["rows"]
    lost = [row["lost_mass_fraction"] for row in rows]
    assert {0.1, 0.3, 0.5} <= {round(one, 9) for one in lost}
    # what leaves as vapor is richer in R-32, the most volatile: less of it stays
    assert rows[-1]["remaining_mass_fractions"][0] < rows[0]["remaining_mass_fractions"][0]
    assert leak._repr_svg_() is None and "R-407C" in leak._repr_html_()
    draw = zeotrope.draw("R-407C", temperature_K=297.0, filled=0.8)
    assert len(draw.data["rows"]) > 3
    top_up = zeotrope.leak("R-407C", temperature_K=297.0, lost=[0.3], refill="R-407C", rounds=2)
    assert len(top_up.data["rounds"]) == 2
    with pytest.raises(ValueError, match="phase"):
        zeotrope.leak("R-407C", temperature_K=297.0, phase="solid")
    with pytest.raises(zeotrope.Error):
        zeotrope.leak("R-407C", temperature_K=297.0, lost=[1.5])
