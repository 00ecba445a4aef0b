"""Beams by a general-purpose frame-analysis package: fixture for tests/suite/mechanics/fixtures.rs.

Run: python tests/reference/beams.py > tests/reference/beams.csv   (with tests/reference/requirements.txt)
"""
from Pynite import FEModel3D


def beam(lengths, fixed, loads, points, ei):
    """A beam over supports; `fixed` ends; distributed (w, from, to) and point (p, at) loads, downward."""
    frame = FEModel3D()
    frame.add_material("m", 1.0, 1.0, 0.3, 1.0)
    frame.add_section("s", 1e6, ei, ei, ei)
    x = [sum(lengths[:i]) for i in range(len(lengths) + 1)]
    for i, place in enumerate(x):
        frame.add_node(f"n{i}", place, 0, 0)
        free = fixed == (True, None) and i == len(lengths)
        held = bool(fixed[0] if i == 0 else fixed[1] if i == len(lengths) else False)
        frame.def_support(f"n{i}", i == 0, not free, not free, i == 0, False, held)
    for i in range(len(lengths)):
        frame.add_member(f"m{i}", f"n{i}", f"n{i+1}", "m", "s")
    for span, w, start, end in loads:
        frame.add_member_dist_load(f"m{span}", "Fy", -w, -w, start, end)
    for span, p, at in points:
        frame.add_member_pt_load(f"m{span}", "Fy", -p, at)
    frame.analyze(check_statics=False)
    return frame


def most(member, n=4001):
    xs = [member.L() * i / (n - 1) for i in range(n)]
    return max((-member.deflection("dy", x) for x in xs), key=abs)


def largest_moment(member, n=4001):
    return max(abs(member.moment("Mz", member.L() * i / (n - 1))) for i in range(n))


L, W, EI = 37.0, 11.0, 5000.0
simple = (False, False)
print("# Made by: python tests/reference/beams.py > tests/reference/beams.csv  (PyNiteFEA 3.2.0)")
print("# single: span, total load, EI, deflection at mid-span under an even load")
member = beam([L], simple, [(0, W / L, 0, L)], [], EI).members["m0"]
print(f"single,{L},{W},{EI},{-member.deflection('dy', L / 2):.9g}")

print("# partly: span, line load, loaded from the left end, near reaction, largest moment")
for span, w, loaded in [(120.0, 10.0, 24.0), (144.0, 35.4, 12.5), (90.0, 3.0, 90.0)]:
    frame = beam([span], simple, [(0, w, 0, loaded)], [], EI)
    reaction = frame.nodes["n0"].RxnFY["Combo 1"]
    print(f"partly,{span},{w},{loaded},{reaction:.9g},{largest_moment(frame.members['m0']):.6g}")

print("# continuous: EI; then lengths / line loads / reactions / largest deflections of the spans")
for lengths, loads in [
    ([30.0, 30.0], [3.0, 3.0]),
    ([24.0, 36.0], [4.0, 2.5]),
    ([36.0, 24.0, 30.0], [3.0, 0.0, 5.0]),
    ([20.0, 32.0, 28.0, 40.0], [3.0, 4.0, 1.0, 2.0]),
]:
    frame = beam(lengths, simple, [(i, w, 0, lengths[i]) for i, w in enumerate(loads)], [], EI)
    reactions = [frame.nodes[f"n{i}"].RxnFY["Combo 1"] for i in range(len(lengths) + 1)]
    sags = [most(frame.members[f"m{i}"]) for i in range(len(lengths))]
    join = lambda values: " ".join(f"{value:.9g}" for value in values)
    print(f"continuous,{EI},{join(lengths)},{join(loads)},{join(reactions)},{join(sags)}")
