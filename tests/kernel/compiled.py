"""The kernel as Numba compiles it, beside the plain functions.

The kernel itself knows nothing of Numba: its functions are registered from outside, the private
ones too, so that compiled code may call them, and the public ones are compiled.
"""

import importlib
import inspect
import pkgutil
from collections.abc import Callable
from functools import cache
from types import FunctionType, ModuleType
from typing import Any

from numba import njit
from numba.extending import register_jitable

import bankside.kernel


def modules() -> list[ModuleType]:
    """Every module of the kernel."""
    found = pkgutil.iter_modules(bankside.kernel.__path__, "bankside.kernel.")
    return [importlib.import_module(info.name) for info in found]


def functions(module: ModuleType) -> list[FunctionType]:
    """The functions that a module defines itself, the private ones among them."""
    return [
        value
        for _, value in inspect.getmembers(module, inspect.isfunction)
        if value.__module__ == module.__name__
    ]


def public_functions() -> dict[str, FunctionType]:
    """The functions that the kernel's modules name in `__all__`."""
    return {
        function.__name__: function
        for module in modules()
        for function in functions(module)
        if function.__name__ in module.__all__
    }


@cache
def compiled_functions() -> dict[str, Callable[..., Any]]:
    """The public functions, each as its compiled twin; compiling happens at the first call."""
    for module in modules():
        for function in functions(module):
            register_jitable(function)
    return {name: njit(function) for name, function in public_functions().items()}
