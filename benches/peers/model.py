"""The model that all engines run, as in src/model.rs."""

from math import exp, pi, sqrt

WALKERS = 300
SESSION_S = 18_000.0

WIDTH_M, HEIGHT_M = 100.0, 60.0
SPEED_M_PER_S = 0.3
DECISIONS_PER_S = 0.1
FIRST_M = (30.0, 30.0)
SECOND_M = (70.0, 20.0)
SOURCE_AMOUNT = 1_000.0
FADES_IN_S = 7_200.0
SPREAD_M2_PER_S = 0.005
HALF_NOTICED = 0.5


class Walker:
    """A walker on its way to a waypoint."""

    __slots__ = ("x_m", "y_m", "to_x_m", "to_y_m", "decided_s", "uniform", "wait_s")

    def __init__(self, random):
        self.uniform = random.random
        self.wait_s = random.expovariate
        self.x_m, self.y_m = WIDTH_M * random.random(), HEIGHT_M * random.random()
        self.to_x_m, self.to_y_m = WIDTH_M * random.random(), HEIGHT_M * random.random()
        self.decided_s = 0.0

    def decide(self, now_s):
        """Moves on and chooses the next waypoint; whether it is at a source, and the wait until the next decision [s]."""
        x, y = self.to_x_m - self.x_m, self.to_y_m - self.y_m
        left_m = sqrt(x * x + y * y)
        walked_m = SPEED_M_PER_S * (now_s - self.decided_s)
        self.decided_s = now_s
        if walked_m >= left_m:
            self.x_m, self.y_m = self.to_x_m, self.to_y_m
        else:
            part = walked_m / left_m
            self.x_m += part * x
            self.y_m += part * y
        s2 = 1.0 + 2.0 * SPREAD_M2_PER_S * now_s
        peak = SOURCE_AMOUNT * exp(-now_s / FADES_IN_S) / (2.0 * pi * s2)
        x, y = self.x_m - FIRST_M[0], self.y_m - FIRST_M[1]
        first = peak * exp(-(x * x + y * y) / (2.0 * s2))
        x, y = self.x_m - SECOND_M[0], self.y_m - SECOND_M[1]
        second = peak * exp(-(x * x + y * y) / (2.0 * s2))
        concentration, source = (first, FIRST_M) if first >= second else (second, SECOND_M)
        uniform = self.uniform
        hit = uniform() < concentration / (concentration + HALF_NOTICED)
        if hit:
            self.to_x_m = source[0] - 1.0 + 2.0 * uniform()
            self.to_y_m = source[1] - 1.0 + 2.0 * uniform()
        else:
            self.to_x_m, self.to_y_m = WIDTH_M * uniform(), HEIGHT_M * uniform()
        return hit, self.wait_s(DECISIONS_PER_S)
