"""Opens planes by digital discs, lists their connected parts and maps distances with OpenCV.

Usage: morphology.py DIR. DIR/cases.json lists {name, width, height, diameter}; DIR/<name>.raw holds one byte a pixel,
1 = opaque. Writes <name>.opened and <name>.distance (float32) and answers versions and parts as JSON on stdout.
Outside the plane is clear. morphologyEx is not used: for kernels of even size it does not turn the anchor round between
erosion and dilation, so its result is shifted.
"""

import json
import sys

import cv2
import numpy

cv2.setNumThreads(1)
folder = sys.argv[1]
parts = {}
for case in json.load(open(f"{folder}/cases.json")):
    name, width, height, d = case["name"], case["width"], case["height"], case["diameter"]
    image = numpy.fromfile(f"{folder}/{name}.raw", dtype=numpy.uint8).reshape(height, width)
    steps = numpy.arange(d) - (d - 1) / 2
    kernel = (steps[:, None] ** 2 + steps[None, :] ** 2 <= (d / 2) ** 2).astype(numpy.uint8)
    margin = d + 1
    wide = cv2.copyMakeBorder(image, margin, margin, margin, margin, cv2.BORDER_CONSTANT, value=0)
    middle = d // 2
    turned = d - 1 - middle
    eroded = cv2.erode(wide, kernel, anchor=(middle, middle), borderType=cv2.BORDER_CONSTANT, borderValue=0)
    opened = cv2.dilate(
        eroded, kernel[::-1, ::-1].copy(), anchor=(turned, turned), borderType=cv2.BORDER_CONSTANT, borderValue=0
    )
    opened[margin:-margin, margin:-margin].tofile(f"{folder}/{name}.opened")
    cv2.distanceTransform(image, cv2.DIST_L2, cv2.DIST_MASK_PRECISE).astype(numpy.float32).tofile(
        f"{folder}/{name}.distance"
    )
    parts[name] = {}
    for kind, plane, connectivity in (("opaque", image, 8), ("clear", 1 - image, 4)):
        count, _, stats, _ = cv2.connectedComponentsWithStats(plane, connectivity=connectivity)
        parts[name][kind] = [[int(v) for v in stats[label]] for label in range(1, count)]
print(json.dumps({"opencv": cv2.__version__, "parts": parts}))
