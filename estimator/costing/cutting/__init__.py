"""Cutting plans: parts to sheets, proven and the same every time."""

from estimator.costing.cutting.bounds import area_bound, big_part_bound, sheets_by_yield
from estimator.costing.cutting.checker import check_plan
from estimator.costing.cutting.naming import name_patterns
from estimator.costing.cutting.planning import plan_board
from estimator.costing.cutting.strips import strips_from_rolls

__all__ = ["area_bound", "big_part_bound", "check_plan", "name_patterns", "plan_board", "sheets_by_yield", "strips_from_rolls"]
