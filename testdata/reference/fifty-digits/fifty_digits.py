"""Reference values at 50 digits. Run here with Python 3 and mpmath 1.3: python3 fifty_digits.py

Inputs are doubles, written so that they read back the same; everything after them is worked out at 50 digits from the
textbook form of each formula, never the form the program uses. Values are written with 25 digits.
"""

import csv
import random

from mpmath import (atan, betainc, cot, diff, erfc, exp, findroot, gammainc, log, lu_solve, matrix, mp,
                    mpf, ncdf, npdf, quad, sin, sqrt)

mp.dps = 50
RANDOM = random.Random(20260701)


def d(text):
    """The double nearest to a decimal text, exactly."""
    return mpf(float(text))


def some(low, high, digits=4):
    return round(RANDOM.uniform(low, high), digits)


class File:
    def __init__(self, name):
        self.name, self.rows = name, []

    def add(self, function, arguments, *values):
        self.rows.append([function, " ".join(repr(float(a)) for a in arguments),
                          " ".join(mp.nstr(mpf(v), 25, min_fixed=0, max_fixed=0) for v in values)])

    def write(self):
        with open(self.name, "w", newline="") as out:
            writer = csv.writer(out, lineterminator="\n")
            writer.writerow(["function", "arguments", "values"])
            writer.writerows(self.rows)


# ---------------------------------------------------------------------------------------------------------- geometry

def uncut(blades, c, radius, side):
    return 2 * max(mpf(0), min(sqrt((x - c) ** 2 + (radius - side * y) ** 2) - r for x, y, r in blades))


def geometry():
    file = File("geometry.csv")
    for _ in range(40):
        wheelbase, track, lock = some(0.3, 10), some(0, 5), some(0.01, 1.56)
        length, t, delta = d(wheelbase), d(track), d(lock)
        radius = length * cot(delta) + t / 2
        file.add("ackermann", [wheelbase, track, lock], radius, length * cot(delta) - t / 2, -length / sin(delta) ** 2)
        turn = some(0.01, 150)
        # the angle from the sine and cosine of the triangle, so that it is right on both sides of the inner wheel
        inner = mp.atan2(length, d(turn) - t / 2)
        file.add("locks", [wheelbase, track, turn], inner, mp.atan2(length, d(turn) + t / 2),
                 sqrt(1 + (length / d(turn)) ** 2))
        ahead = some(-2, 5)
        file.add("turningCircle", [ahead, track, turn], 2 * sqrt(d(ahead) ** 2 + (d(turn) + t / 2) ** 2))
    for _ in range(60):
        blades = [(some(-1, 3), some(-1.5, 1.5), some(0.05, 0.6)) for _ in range(RANDOM.randint(1, 3))]
        c, radius, side = some(-0.5, 0.5), some(2, 100), RANDOM.choice([-1, 1])
        exact = [(d(x), d(y), d(r)) for x, y, r in blades]
        diameter = uncut(exact, d(c), d(radius), side)
        flat = [a for blade in blades for a in blade]
        file.add("uncut", [c, radius, side] + flat, diameter)
        # the inverse as the root of the first formula, bracketed where it grows
        wanted = some(1, 180)
        low, high = max(side * y for _, y, _ in exact), mpf(400)
        if uncut(exact, d(c), low, side) < d(wanted):
            for _ in range(200):
                middle = (low + high) / 2
                low, high = (middle, high) if uncut(exact, d(c), middle, side) < d(wanted) else (low, middle)
            file.add("radius", [c, wanted, side] + flat, (low + high) / 2)
    file.write()


# --------------------------------------------------------------------------------------------------------------- fit

def three_stakes(a, b, c):
    """Law of cosines and D = a/sin α."""
    cosine = (b * b + c * c - a * a) / (2 * b * c)
    return a / sqrt((1 - cosine) * (1 + cosine))


def kasa(points):
    """Normal equations of u² + v² = 2au + 2bv + k."""
    left, right = matrix(3, 3), matrix(3, 1)
    for x, y in points:
        row = [2 * x, 2 * y, mpf(1)]
        for i in range(3):
            right[i] += row[i] * (x * x + y * y)
            for j in range(3):
                left[i, j] += row[i] * row[j]
    a, b, k = lu_solve(left, right)
    return a, b, sqrt(k + a * a + b * b)


def geometric(points):
    """Newton's method on the gradient of the sum of squared distances, from the linear fit; r is the mean distance."""
    n = len(points)

    def gradient(a, b):
        distances = [sqrt((x - a) ** 2 + (y - b) ** 2) for x, y in points]
        r = sum(distances) / n
        return [sum((q - r) * (a - p[0]) / q for p, q in zip(points, distances)),
                sum((q - r) * (b - p[1]) / q for p, q in zip(points, distances))]

    a, b, _ = kasa(points)
    a, b = findroot(gradient, (a, b), tol=mpf(10) ** -70, maxsteps=200)
    distances = [sqrt((x - a) ** 2 + (y - b) ** 2) for x, y in points]
    r = sum(distances) / n
    return a, b, r, sqrt(sum((q - r) ** 2 for q in distances) / n)


def fit():
    file = File("fit.csv")
    for _ in range(30):
        chord = some(0.05, 200)
        rise = round(chord * some(0.02, 1), 6)
        c, h = d(chord), d(rise)
        # from the angle the chord subtends: tan(φ/4) = 2h/c, D = c/sin(φ/2)
        half = 2 * atan(2 * h / c)
        file.add("chordAndRise", [chord, rise], c / sin(half), diff(lambda x: x * x / (4 * h) + h, c),
                 diff(lambda x: c * c / (4 * x) + x, h))
    for flat in (1, 1, 1, 1e-1, 1e-2, 1e-3, 1e-4):
        for _ in range(6):
            one, two = some(0.05, 100), some(0.05, 100)
            # from an ordinary triangle to a needle: the third side nearly as long as the other two together
            three = float(abs(one - two) + (one + two - abs(one - two)) * (1 - 0.4 * flat * RANDOM.uniform(0.5, 1)))
            a, b, c = d(one), d(two), d(three)
            file.add("threeStakes", [one, two, three], three_stakes(a, b, c), diff(lambda x: three_stakes(x, b, c), a),
                     diff(lambda x: three_stakes(a, x, c), b), diff(lambda x: three_stakes(a, b, x), c))
    for arc, spread, away in [(6.28, 0.01, 0), (6.28, 0.2, 0), (3, 0.01, 0), (1.5, 0.003, 0), (1, 0.001, 0),
                              (0.5, 0.0003, 0), (6.28, 0.01, 1e3), (1, 0.001, 1e3), (6.28, 0, 0)]:
        for count in (4, 7, 20):
            radius, turn = some(0.3, 60), some(0, 6)
            flat, points = [], []
            for i in range(count):
                angle = turn + arc * i / count
                r = radius * (1 + spread * RANDOM.uniform(-1, 1))
                x = round(float(away + r * mp.cos(angle)), 5)
                y = round(float(away + r * mp.sin(angle)), 5)
                flat += [x, y]
                points.append((d(x), d(y)))
            file.add("linear", flat, *kasa(points))
            file.add("geometric", flat, *geometric(points))
    file.write()


# ------------------------------------------------------------------------------------------------------- uncertainty

def root(probability, cumulative, low, high):
    """By halving in 200 steps, then not a digit is left open."""
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if cumulative(middle) < probability else (low, middle)
    return (low + high) / 2


def student_below(t, nu):
    tail = betainc(nu / 2, mpf(1) / 2, 0, nu / (nu + t * t), regularized=True) / 2
    return 1 - tail if t > 0 else tail


def student_below_many(t, nu):
    """The same by its density, for degrees of freedom that the incomplete beta function takes too long for."""
    with mp.workdps(90):  # the first digits of the two logarithms cancel
        c = exp(mp.loggamma((nu + 1) / 2) - mp.loggamma(nu / 2)) / sqrt(nu * mp.pi)
    return mpf(1) / 2 + c * quad(lambda x: exp(-(nu + 1) / 2 * mp.log1p(x * x / nu)), [0, t / 2, t])


def f_below(f, a, b):
    return betainc(a / 2, b / 2, 0, a * f / (a * f + b), regularized=True)


def chi_below(x, nu):
    return gammainc(nu / 2, 0, x / 2, regularized=True)


def half_t_below(sigma, scale):
    return 2 * student_below(sigma / scale, mpf(4)) - 1


def quantiles(file):
    for z in ["-38", "-30", "-20", "-12.5", "-8", "-5", "-3", "-1.96", "-1", "-0.1", "-1e-8", "0", "1e-5", "0.5", "2", "6"]:
        file.add("normalProbability", [z], erfc(-d(z) / sqrt(2)) / 2)
    for p in ["1e-12", "1e-6", "0.0005", "0.005", "0.025", "0.245", "0.499", "0.5", "0.7", "0.95", "0.995", "0.99995"]:
        file.add("normal", [p], root(d(p), ncdf, mpf(-10), mpf(10)))
    for nu in ["1", "1.5", "2", "3.7", "7", "30", "250"]:
        for p in ["0.6", "0.975", "0.995", "0.99995"]:
            file.add("student", [p, nu], root(d(p), lambda t: student_below(t, d(nu)), mpf(0), mpf(10000)))
    for nu in ["5000", "99999", "100000", "3e6", "1e9", "1e13", "1e17", "1e20"]:
        for p in ["0.6", "0.975", "0.99995"]:
            file.add("student", [p, nu], root(d(p), lambda t: student_below_many(t, d(nu)), mpf(0), mpf(10)))
    for a, b in [(1, 1), (2, 5), (3, 17.5), (9, 40), (40, 9), (100, 200)]:
        for p in ["0.05", "0.95", "0.99"]:
            file.add("f", [p, a, b], root(d(p), lambda f: f_below(f, mpf(a), d(b)), mpf(0), mpf(10000)))
    for nu in ["1", "2", "4.5", "20", "300"]:
        for p in ["0.025", "0.5", "0.975"]:
            file.add("chiSquared", [p, nu], root(d(p), lambda x: chi_below(x, d(nu)), mpf(0), mpf(1000)))
    for scale in ["0.0001", "0.05", "10"]:
        for p in ["0.01", "0.5", "0.975", "0.9999"]:
            file.add("halfT", [p, scale], root(d(p), lambda s: half_t_below(s, d(scale)), mpf(0), 100 * d(scale)))


def learnt(file):
    for _ in range(12):
        median, spread, scale, share = some(0.001, 0.1), some(0.1, 2), some(0.01, 0.2), some(0.02, 1, 3)
        sigma = some(0.0005, 0.5)
        m, t, s, e, x = (d(v) for v in (median, spread, scale, share, sigma))

        def density(q):
            usual = mpf(3) / 4 / s * (1 + (q / s) ** 2 / 4) ** (-mpf(5) / 2)
            return (1 - e) * npdf(log(q / m) / t) / (t * q) + e * usual

        file.add("learntPrior", [median, spread, scale, share, sigma], log(density(x)),
                 (1 - e) * ncdf(log(x / m) / t) + e * half_t_below(x, s))


def noncentral(file):
    """P(T > t) of the noncentral t distribution: ∫ Φ(δ − t·s) f(s) ds, in x = ν·s²."""
    for n, delta, sd, alpha in [(2, 1.5, 1, 0.05), (2.5, 0.3, 1, 0.05), (5, 2, 1.5, 0.01), (12, 0.5, 1, 0.05),
                                (40, 0.4, 1, 0.1), (300, 0.1, 0.5, 0.05), (3, 0, 1, 0.05)]:
        for samples in (1, 2):
            count = d(n)
            nu = samples * (count - 1)
            shift = d(delta) / d(sd) * sqrt(count / samples)
            t = root(1 - d(alpha) / 2, lambda x: student_below(x, nu), mpf(0), mpf(10000))

            def integrand(w, t=t, nu=nu, shift=shift):
                x = exp(w)
                return ncdf(shift - t * sqrt(x / nu)) * exp(nu / 2 * w - x / 2 - nu / 2 * log(2) - mp.loggamma(nu / 2))

            middle = log(nu)
            value = quad(integrand, [middle - 120 / nu - 3, middle - 6, middle - 1, middle, middle + 1, middle + 3,
                                     middle + 6 + 3 / nu])
            file.add("power%d" % samples, [n, delta, sd, alpha], value)


DATA = [  # cells of circles of readings (m), priors of σ_b and σ_w, contrast, x
    ([[[1.60, 1.61], [1.65, 1.64]], [[1.78, 1.77], [1.75]]], (0.05, 0.02), (-1, 1), 0.20),
    ([[[1.55]], [[1.80]]], (0.05, 0.02), (-1, 1), 0.30),
    ([[[2.0, 2.0], [2.0, 2.0]], [[2.0, 2.0]]], (0.05, 0.02), (-1, 1), 0.002),
    ([[[0.21, 0.28, 0.30], [0.25]]], (0.001, 0.3), (1,), 0.23),
    ([[[150.0, 151.5], [149.0], [152.2, 152.3]], [[160.1], [161.0]]], (2.0, 1.0), (-1, 1), 9.0),
]
RESOLUTION = float(mpf("0.001") / sqrt(12))


def minus_two_log(cells, vb, vw):
    """−2·ln of the density of all contrasts of the readings within cells, from the covariance matrix itself."""
    total = mpf(0)
    for cell in cells:
        y = [r for circle in cell for r in circle]
        owner = [i for i, circle in enumerate(cell) for _ in circle]
        n = len(y)
        v = matrix(n, n)
        for i in range(n):
            for j in range(n):
                v[i, j] = (vb if owner[i] == owner[j] else 0) + (vw if i == j else 0)
        ones = matrix([1] * n)
        inverse_ones = lu_solve(v, ones)
        precision = sum(inverse_ones)
        mean = sum(inverse_ones[i] * y[i] for i in range(n)) / precision
        residual = matrix([q - mean for q in y])
        solved = lu_solve(v, residual)
        total += log(mp.det(v)) + log(precision) + sum(residual[i] * solved[i] for i in range(n))
    return total


def cells_at(cells, vb, vw):
    """Mean and variance of each cell."""
    result = []
    for cell in cells:
        v = [vb + vw / len(circle) for circle in cell]
        p = sum(1 / q for q in v)
        result.append((sum(sum(circle) / len(circle) / q for circle, q in zip(cell, v)) / p, 1 / p))
    return result


def quick_minus_two_log(cells, vb, vw):
    """The same by the determinant of each circle's block, up to a constant: n − 1 times vw and once vw + n·vb."""
    total = mpf(0)
    for cell in cells:
        precision = weighted = squares = mpf(0)
        for circle in cell:
            n = len(circle)
            mean = sum(circle) / n
            v = vb + vw / n
            total += (n - 1) * log(vw) + log(v) + sum((r - mean) ** 2 for r in circle) / vw
            precision += 1 / v
            weighted += mean / v
        centre = weighted / precision
        for circle in cell:
            squares += (sum(circle) / len(circle) - centre) ** 2 / (vb + vw / len(circle))
        total += log(precision) + squares
    return total


def posterior(file):
    for case, (texts, scales, contrast, x) in enumerate(DATA):
        cells = [[[d(r) for r in circle] for circle in cell] for cell in texts]
        base = (d(scales[0]), d(scales[1]))
        r2 = d(RESOLUTION) ** 2
        for _ in range(4):
            sb, sw = float(scales[0] * some(0.05, 3)), float(scales[1] * some(0.05, 3))
            value = minus_two_log(cells, d(sb) ** 2, d(sw) ** 2 + r2) - minus_two_log(cells, base[0] ** 2,
                                                                                    base[1] ** 2 + r2)
            file.add("restrictedLikelihood", [case, sb, sw], -value / 2)
        # the trapezoidal rule over ln σ: e^(−2π·(π/4)/0.2) and what lies beyond e^−22 and e^6 of the scale are below 1e-9
        mp.dps = 25
        step = mpf("0.2")
        steps = range(-110, 31)
        below = total = first = mpf(0)
        priors = [[exp(u * step + log(s)) for u in steps] for s in base]
        for sw in priors[1]:
            vw = sw * sw + r2
            of_w = sw * (1 + (sw / base[1]) ** 2 / 4) ** (-mpf(5) / 2)
            for sb in priors[0]:
                vb = sb * sb
                of_b = sb * (1 + (sb / base[0]) ** 2 / 4) ** (-mpf(5) / 2)
                weight = of_w * of_b * exp(-quick_minus_two_log(cells, vb, vw) / 2)
                at = cells_at(cells, vb, vw)
                mean = sum(c * m for c, (m, _) in zip(contrast, at))
                deviation = sqrt(sum(c * c * v for c, (_, v) in zip(contrast, at)))
                total += weight
                first += weight * mean
                below += weight * ncdf((d(x) - mean) / deviation)
        mp.dps = 50
        file.add("posterior", [case], first / total, below / total)


def mixtures(file):
    for widths in ([1, 1, 1], [0.01, 1, 3], [1e-4, 1, 1], [1e-3, 0.03, 30]):
        for _ in range(3):
            w = [some(0.05, 1) for _ in widths]
            m = [some(-1, 1) for _ in widths]
            v = [float(s * s * some(0.5, 2)) for s in widths]
            total = sum(d(a) for a in w)

            def below(x):
                return sum(d(a) / total * ncdf((x - d(b)) / sqrt(d(c))) for a, b, c in zip(w, m, v))

            for p in (0.0005, 0.025, 0.245, 0.5, 0.975):
                file.add("mixtureQuantile", [p] + w + m + v, root(d(p), below, mpf(-1000), mpf(1000)))


def ranking(file):
    for count in (2, 3, 4):
        for _ in range(3):
            m = [some(1.5, 1.7) for _ in range(count)]
            s = [some(0.005, 0.1) for _ in range(count)]
            values = []
            for i in range(count):
                others = [j for j in range(count) if j != i]
                for place in range(count):
                    def integrand(z, i=i, others=others, place=place):
                        x = d(m[i]) + z * d(s[i])
                        q = [ncdf((x - d(m[j])) / d(s[j])) for j in others]
                        sum_ = mpf(0)
                        for chosen in range(2 ** len(others)):  # every way in which so many of the others lie below
                            if bin(chosen).count("1") == place:
                                product = mpf(1)
                                for k in range(len(others)):
                                    product *= q[k] if chosen >> k & 1 else 1 - q[k]
                                sum_ += product
                        return npdf(z) * sum_

                    step = mpf(1) / 64
                    values.append(step * sum(integrand(k * step) for k in range(-64 * 9, 64 * 9 + 1)))
            file.add("ranking", m + s, *values)


def information(file):
    for p, apart, wide in [(0.5, 2, 1), (0.3, 1, 2), (0.9, 4, 0.5)]:
        one, other, a, s = d(p), 1 - d(p), d(apart), d(wide)
        step = mpf(1) / 128
        total = mpf(0)
        for k in range(-128 * 25, 128 * 30):
            x = k * step
            f, g = npdf(x), npdf((x - a) / s) / s
            both = one * f + other * g
            total += one * f * log(f / both) + other * g * log(g / both)
        file.add("information", [p, apart, wide], total * step / log(2))


def uncertainty():
    file = File("uncertainty.csv")
    quantiles(file)
    learnt(file)
    noncentral(file)
    posterior(file)
    mixtures(file)
    ranking(file)
    information(file)
    file.write()


# ----------------------------------------------------------------------------------------------------------- finding

def finding():
    """Cantelli: of all distributions of one mean and standard deviation at most σ²/(σ² + d²) lies beyond d."""
    file = File("finding.csv")
    for _ in range(40):
        margin, mean, deviation = some(0.001, 0.2), some(-0.5, 0.5), some(0.0001, 0.02, 5)
        m, q, s = d(margin), abs(d(mean)), d(deviation)
        one = 1 / (1 + ((q - m) / s) ** 2)
        two = 1 / (1 + ((q + m) / s) ** 2)
        file.add("whateverTheShape", [margin, mean, deviation], 1 - one if q > m else 1 - one - two)
    for _ in range(40):
        margin, mean, deviation = some(0.001, 0.2), some(-0.5, 0.5), some(0.0001, 0.4, 5)
        m, q, s = d(margin), d(mean), d(deviation)
        file.add("normalWithin", [margin, mean, deviation], ncdf((m - q) / s) - ncdf((-m - q) / s))
    file.write()


geometry()
fit()
finding()
uncertainty()
