"""x"""
import argparse
from typing import Any
def add(commands: Any) -> None:
    pass
