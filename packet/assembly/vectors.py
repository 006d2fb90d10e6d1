"""Plain vector algebra in space, for a handful of points at a time: an array costs more than it saves there."""

from __future__ import annotations

import math

from packet.assembly.records import Point3


def plus(a: Point3, b: Point3) -> Point3:
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def minus(a: Point3, b: Point3) -> Point3:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def dot(a: Point3, b: Point3) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Point3, b: Point3) -> Point3:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def unit(v: Point3) -> Point3:
    """The vector at length 1."""
    length = math.sqrt(dot(v, v))
    return (v[0] / length, v[1] / length, v[2] / length)
