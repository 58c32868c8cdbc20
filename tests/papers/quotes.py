"""Quotes to read in the tests: a sample's name goes in; its job, its estimate, its PDF's words come out."""

import io
from dataclasses import replace
from functools import cache
from pathlib import Path

import pypdf

from estimator.costing.estimate import estimate_job
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.results import Estimate
from estimator.model.shop_records import Instalment
from estimator.reading.workbook import read_job

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
LONG = 'Überlanger Name mit <b>fetten</b> Zeichen & "Anführung" 😀 שלום'
ONE_WORD = "Donaudampfschifffahrtsgesellschaftskapitänskajütenschrankwand"


@cache
def job_of(name: str) -> Job:
    job = read_job(WORKBOOKS / f"{name}.xlsx")
    assert isinstance(job, Job)
    return job


def priced(job: Job) -> Estimate:
    estimate = estimate_job(job)
    assert isinstance(estimate, Estimate), estimate
    return estimate


@cache
def estimate_of(name: str) -> Estimate:
    return priced(crowded() if name == "crowded" else job_of(name))


def kitchen() -> Estimate:
    return estimate_of("kitchen")


def said_with(name: str, **terms: object) -> Estimate:
    """A priced job whose Job sheet says something else that changes no price."""
    estimate = estimate_of(name)
    return replace(estimate, job=with_terms(estimate.job, **terms))


def with_terms(job: Job, **other: object) -> Job:
    return replace(job, terms=replace(job.terms, **other))  # type: ignore[arg-type]


def reader(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf))


def words_of(pdf: bytes) -> str:
    """All words of a PDF, with every run of white space as one space."""
    return " ".join(" ".join(page.extract_text() for page in reader(pdf).pages).split())


def crowded() -> Job:
    """60 cabinets with long names in rooms with long names, in every column that a quote can have."""
    job = job_of("kitchen")
    cabinets = tuple(
        replace(
            job.cabinets[n % len(job.cabinets)],
            ref=f"{(ONE_WORD, LONG)[n % 2][:56]} {n:02d}",
            room=(LONG, ONE_WORD, "Hall")[n % 3],
            at=replace(job.cabinets[0].at, number=100 + n),
        )
        for n in range(60)
    )
    steps = tuple(Instalment(Fraction(1, 10), f"{LONG} {ONE_WORD}") for _ in range(10))
    named = replace(
        job,
        cabinets=cabinets,
        finishes=tuple(replace(finish, words=f"{LONG} {ONE_WORD}") for finish in job.finishes),
        shop=replace(job.shop, shop_name=LONG, shop_address=f"{ONE_WORD}\n{LONG}", colour="#FFEE66"),
    )
    return with_terms(
        named, client=ONE_WORD * 2, job_name=LONG, quote_number=ONE_WORD, revision=ONE_WORD, prepared_by=LONG, not_included=LONG,
        payment_schedule=steps, prices_shown="both", quote_shows="by cabinet", tax_name=ONE_WORD[:30], site_address=ONE_WORD,
    )  # fmt: skip


