"""Small parts that stay at the bench stand on every paper that a person works from; so does what the board merchant would ask."""

from estimator.costing.estimate import estimate_job
from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from estimator.papers.estimate_json import estimate_data
from estimator.papers.owner_pages import owner_pdf
from estimator.papers.shop.buy_list import edging_rows
from estimator.papers.shop.edges import batch_rows
from estimator.papers.shop.paper import shop_paper
from estimator.papers.shop.send_out_sheet import send_rows
from estimator.papers.shop_papers import shop_pdf
from tests.costing.banding.test_merchant import a_job as job_with_merchant
from tests.costing.banding.test_merchant import row
from tests.costing.banding.test_small_parts import a_job


def priced(job) -> Estimate:
    answer = estimate_job(job)
    assert isinstance(answer, Estimate)
    return answer


def text_of(pdf: bytes) -> str:
    import io

    from pypdf import PdfReader

    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages)


ANSWER = priced(a_job())
PAPER = shop_paper(ANSWER)


def test_the_send_out_sheet_leaves_them_out_and_names_them() -> None:
    assert [(one.part.ref, one.part.count) for one in send_rows(PAPER)] == [("large", 10)]
    words = text_of(shop_pdf(ANSWER))
    assert "Not sent: too small for the contract bander's machine" in words
    assert "small small (2 pieces, 200 x 150; white)" in words.replace("×", "x")


def test_the_banding_schedule_holds_them_and_says_why() -> None:
    assert [(batch.edging, sum(edge.count for edge in rows), {edge.part.ref for edge in rows}) for batch, rows in batch_rows(ANSWER)] == [
        ("white", 4, {"small", "corner"}), ("oak", 2, {"corner"}),
    ]  # fmt: skip
    assert "Only parts too small for the contract bander's machine; the others are sent." in text_of(shop_pdf(ANSWER))


def test_the_buy_list_buys_edging_for_them_and_not_what_is_supplied() -> None:
    assert [one.needed for one in edging_rows(PAPER) if one.what.startswith("white")] == ["10.2 m", "0.9 m"]


def test_the_owners_page_and_the_sentence_name_them() -> None:
    words = text_of(owner_pdf(ANSWER))
    assert "so banded here all the same: 4 edges of white (small small and corner corner)" in words
    assert ANSWER.decision is not None
    assert "Send white out, band oak here, with 4 edges of parts too small to go: " in ANSWER.decision.sentence


def test_estimate_json_lists_them() -> None:
    data = estimate_data(ANSWER)
    assert [(one["edging"], one["sent"], one["edges"]) for one in data["small_parts"]] == [("white", True, 4), ("oak", False, 2)]
    assert data["small_parts"][0]["parts"][1] == {"ref": "corner", "part": "corner", "count": 2}
    assert Fraction(data["edgings"]["white"]["bought_m"]) == Fraction("0.88")


def test_the_merchant_stands_on_the_owners_page_and_in_the_data() -> None:
    answer = priced(job_with_merchant(row("white 18", delivers="cut and banded", price_per_sheet=Fraction(50)), row("oak 18")))
    assert answer.merchant is not None
    words = text_of(owner_pdf(answer))
    said = answer.merchant.sentence.replace("148.80", "€148.80").replace("96.00", "€96.00")
    assert said != answer.merchant.sentence
    assert f"{said}." in words
    data = estimate_data(answer)["merchant"]
    assert data["best"]["boards"] == list(answer.merchant.best.boards) != []
    assert [one["boards"] for one in data["by_board"]] == [["white 18"], ["oak 18"]]
    assert Fraction(data["here"]["cost"]) == answer.merchant.here.cost
