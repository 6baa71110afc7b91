"""What is ordered, as tables: the take-off with its pieces, the prices that it is counted with, the pours."""

from __future__ import annotations

import math
from collections.abc import Sequence

from foundation.handover.grid import Cell, Column, Fact, Formula, Grid, Shown, shown
from foundation.model.takeoff import Item, TakeOff

BANDS = ("low", "likely", "high")
PriceKey = tuple[str, float, float, float, bool, bool, str]


def count_grids(count: TakeOff, system: str) -> tuple[Grid, Grid, Grid]:
    """Take-off, prices and pours; the take-off's money follows from the prices.

    Parameters
    ----------
    count : TakeOff
        The count.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    tuple of Grid
        Take-off, prices, pours.
    """
    prices, rows = _prices(count.items, system)
    return _take_off(count, prices, rows, system), prices, _pours(count, system)


def _price_key(item: Item) -> PriceKey:
    price = item.price
    return item.kind, price.low, price.likely, price.high, item.quoted, item.stale, item.source


def _prices(items: Sequence[Item], system: str) -> tuple[Grid, dict[PriceKey, int]]:
    """One row for each price that differs, and the row that each item's price stands in."""
    grid = Grid(
        "prices",
        "prices; overwrite the likely, low and high ones and the take-off follows",
        (
            Column("what", "what it buys", width=44),
            Column("unit", "unit", width=8),
            Column("low", "low", "$/unit", "price"),
            Column("likely", "likely", "$/unit", "price"),
            Column("high", "high", "$/unit", "price"),
            Column("quoted", "quoted", width=9),
            Column("stale", "stale", width=7),
            Column("source", "source", width=40),
        ),
    )
    buys: dict[PriceKey, list[str]] = {}
    for item in items:
        buys.setdefault(_price_key(item), []).append(item.what)
    rows = {}
    for key, whats in buys.items():
        kind, *band, quoted, stale, source = key
        unit = shown(kind, system)
        rows[key] = grid.next_row
        grid.add(
            {
                "what": "; ".join(dict.fromkeys(whats)),
                "unit": unit.unit,
                **{name: float(price) * unit.factor for name, price in zip(BANDS, band, strict=True)},
                "quoted": "yes" if quoted else "no",
                "stale": "stale" if stale else "",
                "source": source,
            }
        )
    return grid, rows


def _take_off(count: TakeOff, prices: Grid, rows: dict[PriceKey, int], system: str) -> Grid:
    money = [Column(name, name, "$", "money", 11) for name in BANDS]
    grid = Grid(
        "take-off",
        "take-off: quantity as drawn, order, price, money; unfold a line for the pieces that it sums",
        (
            Column("group", "group", width=14),
            Column("pour", "pour", width=12),
            Column("what", "what", width=40),
            Column("unit", "unit", width=7),
            Column("quantity", "as drawn", "unit", "number"),
            Column("order", "order", "unit", "number"),
            Column("words", "order in words", width=24),
            *(Column(f"price {name}", f"price {name}", "$/unit", "price", 11) for name in BANDS),
            *money,
            Column("quoted", "quoted", width=8),
            Column("source", "source of the price", width=30),
            Column("formula", "how it is worked out", width=60),
            Column("key", "key", width=20),
        ),
        [Fact("note", note) for note in count.notes],
        unprinted=3,
    )
    for item in count.items:
        unit = shown(item.kind, system)
        row = grid.next_row
        cells: dict[str, Cell] = {
            "group": item.group,
            "pour": item.pour,
            "what": item.what,
            "unit": unit.unit,
            "quantity": _as_drawn(item, unit, grid, row),
            "order": unit.of(item.order),
            "words": item.order_words,
            "quoted": "stale" if item.stale else "yes" if item.quoted else "no",
            "source": item.source,
            "formula": item.formula,
            "key": item.key,
        }
        for name in BANDS:
            price = getattr(item.price, name) * unit.factor
            place = prices.at(name, rows[_price_key(item)], of_sheet=True)
            cells[f"price {name}"] = Formula(f"={place}", price)
            cells[name] = _money(item, name, price * unit.of(item.order), grid, row)
        grid.add(cells)
        for piece in item.pieces:
            part = {"what": piece.name, "unit": unit.unit, "formula": piece.formula}
            grid.add({**part, "quantity": unit.of(piece.quantity)}, level=1)
    if grid.rows:
        grid.total = {"what": "all", **{name: grid.sum_of(name) for name in BANDS}}
    return grid


def _as_drawn(item: Item, unit: Shown, grid: Grid, row: int) -> Cell:
    """The sum of the pieces below, where they add up to the quantity; else the quantity alone."""
    whole = sum(piece.quantity for piece in item.pieces)
    if not item.pieces or not math.isclose(whole, item.quantity, rel_tol=1e-9, abs_tol=1e-12):
        return unit.of(item.quantity)
    ends = f"{grid.at('quantity', row + 1)}:{grid.at('quantity', row + len(item.pieces))}"
    return Formula(f"=SUM({ends})", unit.of(item.quantity))


def _money(item: Item, name: str, product: float, grid: Grid, row: int) -> Cell:
    """Order times price, where that is the item's money; else the money alone."""
    money = float(getattr(item.money, name))
    if not math.isclose(product, money, rel_tol=1e-9, abs_tol=1e-9):
        return money
    return Formula(f"={grid.at('order', row)}*{grid.at(f'price {name}', row)}", money)


def _pours(count: TakeOff, system: str) -> Grid:
    unit = shown("volume", system)
    grid = Grid(
        "pours",
        "pours in the order of the work",
        (
            Column("name", "pour", width=24),
            Column("state", "state"),
            Column("concrete", "as drawn", unit.unit, "volume"),
            Column("order", "order", unit.unit, "volume"),
            Column("trucks", "trucks", "-", "whole", 9),
            Column("hours", "time at the rise rate", "h", "number", 14),
            Column("mix", "mix", width=40),
        ),
    )
    for pour in count.pours:
        grid.add(
            {
                "name": pour.name,
                "state": pour.state,
                "concrete": unit.of(pour.concrete),
                "order": unit.of(pour.order),
                "trucks": pour.trucks,
                "hours": pour.hours if math.isfinite(pour.hours) else None,
                "mix": pour.mix,
            }
        )
    if grid.rows:
        grid.total = {"name": "all", **{key: grid.sum_of(key) for key in ("concrete", "order", "trucks")}}
    return grid
