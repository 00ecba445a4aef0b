"""Composite sections by a general-purpose meshed-section package: fixture for tests/suite/mechanics/fixtures.rs.

Run: python tests/reference/sections.py > tests/reference/sections.csv   (with tests/reference/requirements.txt)
"""
from sectionproperties.analysis import Section
from sectionproperties.pre import Material
from sectionproperties.pre.library import rectangular_section


def analyse(pieces):
    """pieces: (E, width, height, middle across, middle up). Returns neutral axis, EI held, EI free to sway."""
    geometry = None
    for i, (e, b, h, y, z) in enumerate(pieces):
        material = Material(f"m{i}", e, 0.0, 1.0, 1.0, "grey")
        piece = rectangular_section(d=h, b=b, material=material).shift_section(y - b / 2, z - h / 2)
        geometry = piece if geometry is None else geometry + piece
    section = Section(geometry.create_mesh(mesh_sizes=[1e9]))
    section.calculate_geometric_properties()
    ixx, iyy, ixy = section.get_eic()
    return section.get_c()[1], ixx, ixx - ixy**2 / iyy


print("# Made by: python tests/reference/sections.py > tests/reference/sections.csv  (sectionproperties 3.10.2)")
print("# name; pieces as E width height across up, one after the other; neutral axis; EI held; EI free to sway")
for name, pieces in [
    ("sewing room: shelf, strip, cleat (psi, in)", [
        (0.95e6, 11.8125, 0.71875, 5.90625, 0.359375),
        (1.58e6, 0.75, 1.5, 12.1875, -0.03125),
        (0.95e6, 0.71875, 2.5, 0.359375, -1.25),
    ]),
    ("alcoves: shelf, strip, cleat (N/mm2, mm)", [
        (8500.0, 300.0, 17.6, 150.0, 8.8),
        (10900.0, 20.0, 40.0, 310.0, -2.4),
        (8500.0, 17.6, 60.0, 8.8, -30.0),
    ]),
    ("shelf and flange strip", [(1.8e6, 2.9, 0.71875, 1.45, 0.359375), (1.58e6, 0.75, 2.0, 3.275, -0.28125)]),
    ("strip flat under the rear", [(1.0e6, 11.25, 0.71875, 5.625, 0.359375), (1.58e6, 1.5, 0.75, 0.75, -0.375)]),
]:
    axis, held, free = analyse(pieces)
    numbers = " ".join(f"{value!r}" for piece in pieces for value in piece)
    print(f"{name};{numbers};{axis:.9g};{held:.9g};{free:.9g}")
