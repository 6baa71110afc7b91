"""Every public docstring agrees with its signature and gives each number a unit."""

from __future__ import annotations

import dataclasses
import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator
from typing import Any

import pytest
from numpydoc.docscrape import ClassDoc, FunctionDoc
from pydantic import BaseModel

import foundation

UNIT = re.compile(r"\[[^\[\]]+\]")
NUMBER = re.compile(r"\b(float|int|ndarray|Array|NDArray|ArrayLike)\b")
PLAIN = re.compile(r"\bof (int|bool|str)\b|\bbool\b|ndarray of (int|bool)")


def modules() -> Iterator[Any]:
    for found in pkgutil.walk_packages(foundation.__path__, "foundation."):
        if not found.name.endswith("__main__"):
            yield importlib.import_module(found.name)


def public() -> list[Any]:
    things: list[Any] = []
    for module in modules():
        for name, thing in vars(module).items():
            if name.startswith("_") or getattr(thing, "__module__", None) != module.__name__:
                continue
            if inspect.isfunction(thing) or inspect.isclass(thing):
                things.append(pytest.param(thing, id=f"{module.__name__}.{name}"))
    return things


def numeric(annotation: Any) -> bool:
    text = annotation if isinstance(annotation, str) else str(annotation)
    return bool(NUMBER.search(text)) and "Callable" not in text


def described(entries: list[Any]) -> dict[str, str]:
    return {
        name.strip().lstrip("*"): " ".join([entry.type, *entry.desc])
        for entry in entries
        for name in entry.name.split(",")
    }


def check_function(function: Any, where: str, *, summary_only: bool = False) -> list[str]:
    wrong = []
    doc = inspect.getdoc(function)
    if not doc:
        return [f"{where}: no docstring"]
    parsed = FunctionDoc(function)
    parameters = {
        name: parameter
        for name, parameter in inspect.signature(function).parameters.items()
        if name not in ("self", "cls")
    }
    told = described(parsed["Parameters"])
    if summary_only and not told:
        return []
    if set(told) != set(parameters):
        wrong.append(f"{where}: tells of {sorted(told)}, takes {sorted(parameters)}")
    for name, parameter in parameters.items():
        text = told.get(name, "")
        if numeric(parameter.annotation) and not UNIT.search(text) and not PLAIN.search(text):
            wrong.append(f"{where}: {name} is a number without a unit")
    returned = inspect.signature(function).return_annotation
    if numeric(returned) and parsed["Returns"]:
        text = " ".join(" ".join([entry.type, *entry.desc]) for entry in parsed["Returns"])
        if not UNIT.search(text) and not PLAIN.search(text):
            wrong.append(f"{where}: returns a number without a unit")
    return wrong


def check_class(kind: Any, where: str) -> list[str]:
    if not kind.__doc__:
        return [f"{where}: no docstring"]
    wrong = []
    if dataclasses.is_dataclass(kind):
        parsed = ClassDoc(kind)
        told = described(parsed["Attributes"]) | described(parsed["Parameters"])
        for field in dataclasses.fields(kind):
            if field.name.startswith("_"):
                continue
            if field.name not in told:
                wrong.append(f"{where}: does not tell of {field.name}")
            elif (
                numeric(field.type)
                and not UNIT.search(told[field.name])
                and not PLAIN.search(told[field.name])
            ):
                wrong.append(f"{where}: {field.name} is a number without a unit")
    for name, method in vars(kind).items():
        target = method.fget if isinstance(method, property) else getattr(method, "func", method)
        if (
            name.startswith("_")
            or not inspect.isfunction(target)
            or (issubclass(kind, BaseModel) and not isinstance(method, property))
        ):
            continue
        if isinstance(method, property):
            text = inspect.getdoc(target) or ""
            if not text:
                wrong.append(f"{where}.{name}: no docstring")
            elif numeric(inspect.signature(target).return_annotation) and not UNIT.search(text):
                wrong.append(f"{where}.{name}: a number without a unit")
        else:
            wrong += check_function(target, f"{where}.{name}")
    return wrong


@pytest.mark.parametrize("thing", public())
def test_docstring_agrees_with_signature(thing: Any) -> None:
    where = f"{thing.__module__}.{thing.__name__}"
    wrong = check_class(thing, where) if inspect.isclass(thing) else check_function(thing, where)
    assert not wrong


def test_schema_describes_every_field() -> None:
    from foundation.project import schema

    for _name, section in inspect.getmembers(schema, inspect.isclass):
        if issubclass(section, BaseModel):
            missing = [name for name, field in section.model_fields.items() if not field.description]
            assert not missing, f"{section.__name__}: {missing}"
