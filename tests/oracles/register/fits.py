"""Fits transforms to pairs of points with scipy's least squares; prints them as JSON. Reads the pairs as JSON."""
import json
import sys

import numpy as np
from scipy.optimize import least_squares

answers = []
for pairs in json.load(open(sys.argv[1])):
    source = np.array([pair[0] for pair in pairs], float)
    target = np.array([pair[1] for pair in pairs], float)

    def similarity(v):
        angle, scale, e, f = v
        c, s = scale * np.cos(angle), scale * np.sin(angle)
        return (source @ np.array([[c, s], [-s, c]]) + [e, f] - target).ravel()

    def affine(v):
        return (source @ np.array([[v[0], v[1]], [v[2], v[3]]]) + v[4:] - target).ravel()

    tight = {"xtol": 1e-15, "ftol": 1e-15, "gtol": 1e-15}
    one = least_squares(similarity, [0, 1, 0, 0], x_scale=[1e-3, 1e-3, 1, 1], **tight)
    two = least_squares(affine, [1, 0, 0, 1, 0, 0], x_scale=[1e-3, 1e-3, 1e-3, 1e-3, 1, 1], **tight)

    def spread(fit):
        """Covariance of the unknowns for errors of one unit along each axis of each mark."""
        return np.linalg.inv(fit.jac.T @ fit.jac)

    def largest(left):
        return float(np.hypot(*left.reshape(-1, 2).T).max())

    answers.append(
        {
            "similarity": {
                "rotationDeg": float(-np.degrees(one.x[0])),
                "scale": float(one.x[1]),
                "largestMm": largest(one.fun),
                "scaleError": float(np.sqrt(spread(one)[1, 1])),
                "turnError": float(np.sqrt(spread(one)[0, 0])),
            },
            "affine": {
                "a": float(two.x[0]),
                "b": float(two.x[1]),
                "c": float(two.x[2]),
                "d": float(two.x[3]),
                "largestMm": largest(two.fun),
                "scaleError": float(np.sqrt(max(spread(two)[0, 0], spread(two)[3, 3]))),
                "turnError": float(np.sqrt([0, 0.5, -0.5, 0, 0, 0] @ spread(two) @ [0, 0.5, -0.5, 0, 0, 0])),
            },
        }
    )
print(json.dumps(answers))
