"""Radius of the largest clear circle between dots, in sides of the cell: JSON {form: [tones]} in, {form: [radii]} out.

Dots are drawn as the places of a cell in the order in which their form turns them black, as many as the tone says, and
the distances from clear places to the next dot are scipy's exact Euclidean ones.
"""
import json
import sys

import numpy as np
from scipy.ndimage import distance_transform_edt

side = 500
middle = (np.arange(side) + 0.5) / side - 0.5
v, u = np.meshgrid(middle, middle, indexing="ij")
turn = 2 * np.pi
orders = {
    "round": u**2 + v**2,
    "square": np.maximum(abs(u), abs(v)),
    "diamond": abs(u) + abs(v),
    "euclidean": -np.cos(turn * u) - np.cos(turn * v),
    "elliptical": -np.cos(turn * u) - 1.5 * np.cos(turn * v),
    "line": abs(v),
}
answer = {}
for form, tones in json.load(open(sys.argv[1])).items():
    levels = np.sort(orders[form].ravel())
    answer[form] = []
    for tone in tones:
        clear = orders[form] > levels[int(tone * levels.size) - 1]
        # Half a place less, as distances run from middle to middle.
        answer[form].append((distance_transform_edt(np.tile(clear, (2, 2))).max() - 0.5) / side)
json.dump(answer, sys.stdout)
