"""Sag of a shelf's two long edges by a finite-strip folded-plate model: fixture for tests/suite/mechanics/fixtures.rs.

Run: python tests/reference/shelf_plate.py > tests/reference/shelf_plate.csv   (with tests/reference/requirements.txt)

Shelf, strip and cleat are thin plates, each both a plate in bending and a membrane, tied rigidly along their joints.
Along the span every unknown is a sine or cosine series (ends simply supported, free to warp); across it each strip
is linear in the plane and cubic in bending. Shear in the plane and twist both take G (a strip of solid wood E/16);
across the grain E is E too, and Poisson's ratio is nought. The load lies evenly on the shelf. Screws 8 in either
side of mid-span hold the middle of the cleat up, by forces found from the flexibilities (least squares). Inches
and pounds. The two-edge rule itself is not used here.
"""
import numpy as np

HARMONICS = 79  # odd ones count: load, strips and screws are symmetric about mid-span
ELEMENTS = 16


def strip_matrices(width, t, e, g, k):
    """Stiffness of one strip for a harmonic of wave number k, per half span: in-plane (4x4), bending (4x4).

    In-plane unknowns u (along, cosine), v (across, sine) at both edges; bending w, rotation dw/dy at both edges.
    """
    points, weights = np.polynomial.legendre.leggauss(4)
    plane, bend = np.zeros((4, 4)), np.zeros((4, 4))
    d, twist = e * t**3 / 12, g * t**3 / 12
    for point, weight in zip(points, weights):
        s = (point + 1) / 2
        n1, n2, d1, d2 = 1 - s, s, -1 / width, 1 / width
        # strains: along = -k u, across = v', shear = u' + k v
        along = np.array([-k * n1, 0, -k * n2, 0])
        across = np.array([0, d1, 0, d2])
        shear = np.array([d1, k * n1, d2, k * n2])
        plane += weight * width / 2 * t * (
            e * np.outer(along, along) + e * np.outer(across, across) + g * np.outer(shear, shear))
        h = np.array([1 - 3 * s**2 + 2 * s**3, width * (s - 2 * s**2 + s**3), 3 * s**2 - 2 * s**3,
                      width * (s**3 - s**2)])
        h1 = np.array([-6 * s + 6 * s**2, width * (1 - 4 * s + 3 * s**2), 6 * s - 6 * s**2,
                       width * (3 * s**2 - 2 * s)]) / width
        h2 = np.array([-6 + 12 * s, width * (-4 + 6 * s), 6 - 12 * s, width * (6 * s - 2)]) / width**2
        bend += weight * width / 2 * (
            d * k**4 * np.outer(h, h) + d * np.outer(h2, h2) + 4 * twist * k**2 * np.outer(h1, h1))
    return plane, bend


class Shelf:
    def __init__(self, span, depth, t, e, g, strip=None, cleat=None, screws=()):
        self.span, self.depth, self.screws = span, depth, screws
        self.plates = []  # (upright?, t, e, [nodes])
        self.nodes = 0
        self.offsets = []  # rigid links: (node of the stiffener, node of the shelf, dy, dz)
        y = np.linspace(0, depth, ELEMENTS + 1)
        shelf = self.line(y)
        self.plates.append((False, t, e, g, shelf, y))
        self.shelf, self.y = shelf, y
        self.cleat_node = None
        if strip:
            ts, hs, es = strip
            # down from the top; a node at the shelf's mid-plane, where it is tied to the front edge
            z = np.concatenate([np.linspace(-t / 2, 0, 2), np.linspace(0, hs - t / 2, 7)[1:]])
            nodes = self.line(z)
            self.plates.append((True, ts, es, es / 16, nodes, z))
            self.offsets.append((nodes[1], shelf[-1], ts / 2, 0.0))
        if cleat:
            tc, hc, ec = cleat
            z = np.linspace(0, hc, 7)
            nodes = self.line(z)
            self.plates.append((True, tc, ec, g, nodes, z))
            self.offsets.append((nodes[0], shelf[0], tc / 2, t / 2))
            self.cleat_node = nodes[3]

    def line(self, places):
        nodes = list(range(self.nodes, self.nodes + len(places)))
        self.nodes += len(places)
        return nodes

    def solve(self, m, loads):
        """Unknowns per node: u along, v across (front), w down, r = dw/dy. loads: per node, downward."""
        k = m * np.pi / self.span
        size = 4 * self.nodes
        stiffness = np.zeros((size, size))
        for upright, t, e, g, nodes, places in self.plates:
            for a, b, width in zip(nodes, nodes[1:], np.diff(places)):
                plane, bend = strip_matrices(width, t, e, g, k)
                # lying: in-plane (u, v), bending (w, r). Upright, running down: in-plane (u, w); bending (-v, r),
                # for turning the section so that dw/dy = r moves a point below towards the rear: dv/dz = -r.
                ip = [4 * a, 4 * a + (2 if upright else 1), 4 * b, 4 * b + (2 if upright else 1)]
                out = [4 * a + (1 if upright else 2), 4 * a + 3, 4 * b + (1 if upright else 2), 4 * b + 3]
                sign = np.array([-1, 1, -1, 1]) if upright else np.ones(4)
                stiffness[np.ix_(ip, ip)] += plane
                stiffness[np.ix_(out, out)] += bend * np.outer(sign, sign)
        # rigid links: the stiffener's node (dy before, dz below the shelf's node) follows it
        transform = np.eye(size)
        gone = []
        for slave, master, dy, dz in self.offsets:
            for i in range(4):
                transform[4 * slave + i, 4 * slave + i] = 0
                transform[4 * slave + i, 4 * master + i] = 1
            transform[4 * slave + 2, 4 * master + 3] += dy      # w = w0 + r dy
            transform[4 * slave + 1, 4 * master + 3] += -dz     # v = v0 - r dz
            transform[4 * slave, 4 * master + 2] += -dz * k     # u = u0 - dz dw/dx (cosine)
            transform[4 * slave, 4 * master + 1] += -dy * k     # u = u0 - dy dv/dx (cosine)
            gone += [4 * slave + i for i in range(4)]
        keep = [i for i in range(size) if i not in gone]
        transform = transform[:, keep]
        reduced = transform.T @ stiffness @ transform
        force = np.zeros((size, loads.shape[1]))
        force[2::4] = loads
        return transform @ np.linalg.solve(reduced, transform.T @ force)

    def sag(self, line_load):
        """Mid-span sag at the front and rear long edges of the shelf (the front one where the strip meets it)."""
        tributary = np.zeros(self.nodes)
        for a, b, width in zip(self.shelf, self.shelf[1:], np.diff(self.y)):
            tributary[a] += width / 2 / self.depth
            tributary[b] += width / 2 / self.depth
        edge = np.zeros(2)
        influence = np.zeros((2, len(self.screws)))
        settle = np.zeros(len(self.screws))
        flexibility = np.zeros((len(self.screws), len(self.screws)))
        for m in range(1, HARMONICS + 1, 2):
            middle = np.sin(m * np.pi / 2)
            loads = np.zeros((self.nodes, 2))
            loads[:, 0] = tributary * line_load * 4 / (m * np.pi)
            if self.screws:
                loads[self.cleat_node, 1] = 2 / self.span
            moved = self.solve(m, loads)[2::4]
            ends = moved[[self.shelf[-1], self.shelf[0]]]
            edge += ends[:, 0] * middle
            if self.screws:
                at = np.array([np.sin(m * np.pi * x / self.span) for x in self.screws])
                influence += np.outer(ends[:, 1] * middle, at)
                settle += moved[self.cleat_node, 0] * at
                flexibility += moved[self.cleat_node, 1] * np.outer(at, at)
        if self.screws:
            edge = edge - influence @ np.linalg.lstsq(flexibility, settle, rcond=None)[0]
        return edge


def case(span, strip, cleat, screwed, e, depth=11.8125, t=0.71875, g=0.075e6, es=1.58e6, load=35 / 12):
    strip = (0.75, strip, es) if strip else None
    cleat = (t, cleat, e) if cleat else None
    screws = (span / 2 - 8, span / 2 + 8) if screwed else ()
    return Shelf(span, depth, t, e, g, strip, cleat, screws).sag(load)


TABLE = [(24, 0, 0, 0, .95), (24, 1.5, 2.5, 1, .95), (30, 1.5, 0, 0, .95), (30, 1.5, 2.5, 0, .95),
         (36, 1.5, 0, 0, .95), (36, 1.5, 2.5, 0, .95), (36, 1.5, 2.5, 1, .95), (36, 0, 2.5, 1, .95),
         (36, 1.5, 0, 0, 1.8), (42, 2, 2.5, 1, 1.8), (48, 1, 0, 0, .95), (48, 2.5, 2.5, 0, .95)]

if __name__ == "__main__":
    print("# Made by: python tests/reference/shelf_plate.py > tests/reference/shelf_plate.csv  (numpy 2.4.6)")
    print("# span, depth, thickness, strip, cleat, screwed, E, G, load per in, front, rear; inches and pounds")
    wide = [(24, 1, 1, 1, 1.8, 14.0, 0.05e6), (48, 1, 3, 0, .95, 9.25, 0.11e6), (24, 2.5, 3, 1, .95, 14.0, 0.11e6),
            (30, 0, 1, 1, 1.8, 14.0, 0.05e6), (40, 1.75, 0, 0, 1.2, 13.0, 0.09e6), (32, 2, 2, 0, 1.5, 10.0, 0.06e6),
            (48, 0, 3, 1, .95, 9.25, 0.11e6)]
    for span, strip, cleat, screwed, e, depth, g in [(*row, 11.8125, 0.075e6) for row in TABLE] + wide:
        front, rear = case(span, strip, cleat, screwed, e * 1e6, depth, g=g)
        print(f"{span},{depth},0.71875,{strip},{cleat},{screwed},{e*1e6:g},{g:g},{35/12!r},{front:.6g},{rear:.6g}")
