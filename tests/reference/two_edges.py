"""The two-edge rule of `src/mechanics/shelf.rs`, written a second time from its formulas: fixture for tests/suite/mechanics/shelves.rs.

Run: python tests/reference/two_edges.py > tests/reference/two_edges.csv   (nothing but Python itself)

Two long edges, each half the shelf and its stiffener under half the load, tied by the plate's twist over a sine wave of the
span. L clear span, b and t the shelf, w load per length, h height of a stiffener; S its stiffness with the flange c of the shelf
that works with it, less the flange's own. What the rule leaves out stands in `shelf_plate.py`, which does not use it.
"""
from math import sqrt


def stiffness(span, depth, t, e, g, stiffener, below):
    """EI that a stiffener (thickness, height, modulus) adds to an edge; its top is flush, or it hangs under the shelf."""
    if stiffener is None:
        return 0.0
    thick, high, own = stiffener
    c = min(depth / 4, span / 4 * sqrt(g / e))
    pieces = [
        (e * c * t, -t / 2, e * c * t**3 / 12),
        (own * thick * high, -t - high / 2 if below else -high / 2, own * thick * high**3 / 12),
    ]
    middle = sum(ea * at for ea, at, _ in pieces) / sum(ea for ea, _, _ in pieces)
    whole = sum(ei + ea * (at - middle) ** 2 for ea, at, ei in pieces)
    return (whole - e * c * t**3 / 12) / (1.05 + 32 * (high / span) ** 2)


def sag(span, depth, t, e, g, w, strip, cleat, screwed):
    """Sag of the front and the rear edge on the first day."""
    d = e * depth * t**3 / 12
    front = d / 2 + stiffness(span, depth, t, e, g, strip, False)
    rear = d / 2 + stiffness(span, depth, t, e, g, cleat, True)
    height = sum(stiffener[1] for stiffener in (strip, cleat) if stiffener)
    twist = g * t**3 * (depth + height) * (span / (6 * depth)) ** 2 - d / 6
    load = 5 * (w / 2) * span**4 / 384
    if screwed:
        return load / (front + twist), 0.0
    whole = front * rear + twist * (front + rear)
    return load * (rear + 2 * twist) / whole, load * (front + 2 * twist) / whole


# Span, height of the strip, of the cleat, screwed to the wall, E in million psi.
ROWS = [
    (24, None, None, False, 0.95),
    (24, 1.5, 2.5, True, 0.95),
    (30, 1.5, None, False, 0.95),
    (30, 1.5, 2.5, False, 0.95),
    (36, 1.5, None, False, 0.95),
    (36, 1.5, 2.5, False, 0.95),
    (36, 1.5, 2.5, True, 0.95),
    (36, None, 2.5, True, 0.95),
    (36, 1.5, None, False, 1.80),
    (42, 2, 2.5, True, 1.80),
    (48, 1, None, False, 0.95),
    (48, 2.5, 2.5, False, 0.95),
]

if __name__ == "__main__":
    print("# Made by: python tests/reference/two_edges.py > tests/reference/two_edges.csv")
    print("# span, strip, cleat, screwed, E in million psi, front, rear; inches, 35 lb/ft")
    t = 23 / 32
    for span, strip, cleat, screwed, e in ROWS:
        modulus = e * 1e6
        front, rear = sag(
            span, 11 + 13 / 16, t, modulus, 0.075e6, 35 / 12,
            strip and (0.75, strip, 1.58e6), cleat and (t, cleat, modulus), screwed,
        )
        print(f"{span},{strip or 0},{cleat or 0},{int(screwed)},{e},{front:.6f},{rear:.6f}")
