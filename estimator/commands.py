"""Every command with its options and the words of its help: what may be typed, as data for the prompt.

    start, blank        to begin
    check, explain      to understand
    price, watch        to price
    compare             what changed
    learn               what it really took
"""

from __future__ import annotations

from estimator import __version__
from estimator.prompting import Reader, command
from estimator.questions import OPTIONS


def commands() -> Reader:
    """Everything that can be typed."""
    reader = Reader(
        prog="estimator",
        description="From a workbook of cabinets to a quote, papers for the bench, a way of banding.",
        epilog="Example:  estimator price kitchen.xlsx\nAll about one command:  estimator price --help",
    )
    reader.add_argument("--version", action="version", version=f"estimator {__version__}", help="show which version this is")
    some = reader.add_subparsers(dest="command", required=True, metavar="COMMAND", title="the commands", parser_class=Reader)
    start = command(
        some, "start", "ask a handful of questions and make a shop's first folder", example="estimator start my-shop"
    )
    start.usage = "estimator start FOLDER [answers; what is left out is asked]"
    start.add_argument("folder", metavar="FOLDER", help="where the new files go; what is there stays as it is")
    for option, hint in OPTIONS.items():
        start.add_argument(f"--{option}", metavar="ANSWER", help=hint.replace("%", "%%"))
    blank = command(some, "blank", "write the empty form, ready to fill in", example="estimator blank north-street.xlsx")
    blank.add_argument("file", metavar="FILE", help="where the new workbook goes; a file that is there stays as it is")
    blank.add_argument("--units", metavar="ANSWER", default="mm", help="mm or inch; mm if you say nothing")
    check = command(
        some, "check", "tell every problem and remark of a workbook; write nothing", example="estimator check kitchen.xlsx"
    )
    explain = command(
        some, "explain", "follow one cabinet from its cells to its price", example="estimator explain kitchen.xlsx Kitchen 2"
    )
    explain.add_argument("file", metavar="WORKBOOK", help="a job workbook")
    explain.add_argument("ref", nargs="+", metavar="REF", help="the Ref of a cabinet, loose part or extra, such as Kitchen 2")
    explain.add_argument("--shop", metavar="FILE", help="your price book, where it is not shop.xlsx beside the job")
    explain.add_argument("--json", action="store_true", help="print the same as data and nothing else")
    price = command(some, "price", "price workbooks and write their papers", example="estimator price kitchen.xlsx")
    for one in (check, price):
        one.add_argument("files", nargs="+", metavar="FILE", help="a job workbook, or a folder of them")
        one.add_argument("--shop", metavar="FILE", help="your price book, where it is not shop.xlsx beside the job")
    price.add_argument("--out", metavar="FOLDER", default="reports", help="where the papers go; reports if you say nothing")
    price.add_argument("--words", metavar="FOLDER", help="your own sentences for the papers")
    price.add_argument("--again", action="store_true", help="price all of a folder, also what has not changed since")
    price.add_argument("--workers", type=int, metavar="N", help="how many jobs of a folder at once; as many as there are cores")
    price.add_argument("--on", metavar="ADDRESS", help="hand the jobs to the computers of a Dask cluster, such as tcp://host:8786")
    price.add_argument("--json", action="store_true", help="print the whole answer as data and nothing else")
    compare = command(
        some, "compare", "say what moved the price between two jobs, step by step",
        example="estimator compare reports/kitchen/1 kitchen.xlsx",
    )
    compare.add_argument("old", metavar="OLD", help="a workbook, or a folder of papers such as reports/kitchen/1")
    compare.add_argument("new", metavar="NEW", help="the same, as it is now")
    compare.add_argument("--change-order", action="store_true", help="OLD is won: write the difference in the work as a paper to sign")
    compare.add_argument("--shop", metavar="FILE", help="your price book, where it is not shop.xlsx beside the workbook")
    compare.add_argument("--out", metavar="FOLDER", default="reports", help="where the papers go; reports if you say nothing")
    compare.add_argument("--words", metavar="FOLDER", help="your own sentences for the change order")
    compare.add_argument("--json", action="store_true", help="print the whole answer as data and nothing else")
    watch = command(some, "watch", "price every job of a folder again as it is saved", example="estimator watch my-jobs")
    watch.add_argument("folder", metavar="FOLDER", help="the folder of your job workbooks")
    watch.add_argument("--shop", metavar="FILE", help="your price book, where it is not shop.xlsx beside the jobs")
    watch.add_argument("--out", metavar="FOLDER", default="reports", help="where the papers go; reports if you say nothing")
    watch.add_argument("--words", metavar="FOLDER", help="your own sentences for the papers")
    learn = command(
        some, "learn", "compare finished jobs with their estimates and learn new times", example="estimator learn finished-jobs"
    )
    learn.add_argument("folder", metavar="FOLDER", help="job workbooks whose sheet Time log is filled in, and times.xlsx")
    learn.add_argument("--shop", metavar="FILE", help="your price book, where it is not shop.xlsx beside the jobs")
    learn.add_argument("--out", metavar="FOLDER", default="reports", help="where times.xlsx goes, and where the estimates of then lie")
    learn.add_argument("--write", action="store_true", help="put the new times into your price book, after a dated copy of it")
    learn.add_argument("--date", metavar="DATE", help="date of that copy, such as 2031-07-01; else that of the newest row")
    learn.add_argument("--json", action="store_true", help="print the whole answer as data and nothing else")
    return reader
