"""Reference values and Chebyshev coefficients for the ranking model's special functions.

Run: python3 generate.py    (Python 3.11, mpmath 1.3.0)
Writes erfcx.csv and depressed-normal.csv beside itself and prints the coefficients that ScaledErrorFunction carries.
Adding a case means adding an argument below and running it again.
"""
from mpmath import mp, mpf, exp, erfc, sqrt, pi, cos, quad, findroot, inf, diff, log, nstr

mp.dps = 40


def erfcx(x):
    if x > 60:
        total, term = mpf(0), mpf(1)
        for n in range(15):
            total += term
            term *= -(2 * n + 1) / (2 * x * x)
        return total / (x * sqrt(pi))
    return exp(x * x) * erfc(x)


def coefficients(count=24, centre=mpf("3.75"), nodes=64):
    def scaled(t):
        x = centre * (1 + t) / (1 - t)
        return (1 + 2 * x) * erfcx(x)

    points = [cos(pi * (k + mpf(1) / 2) / nodes) for k in range(nodes)]
    values = [scaled(t) for t in points]
    series = [2 / mpf(nodes) * sum(v * cos(pi * j * (k + mpf(1) / 2) / nodes) for k, v in enumerate(values))
              for j in range(count)]
    series[0] /= 2
    return series


def depressed(x, sigma, tau):
    """Normal error less an exponential depression, by direct integration of the convolution."""
    def exponent(d):
        u = (x + d) / sigma
        return -u * u / 2 - d / tau

    # Divide by the integrand's peak, so that far tails are integrated to the same relative accuracy.
    peak = max(-x - sigma * sigma / tau, mpf(0))
    width = min(sigma, 1 / (abs(x + peak) / sigma ** 2 + 1 / tau))
    steps = [peak + k * width for k in (-200, -60, -20, -8, -3, -1, 0, 1, 3, 8, 20, 60, 200)]
    steps += [peak + k * sigma for k in (-30, -12, -6, -3, -1.5, 1.5, 3, 6, 12, 30)]
    panels = sorted({step for step in steps if step > 0} | {mpf(0), inf})
    return (quad(lambda d: exp(exponent(d) - exponent(peak)), panels)
            * exp(exponent(peak)) / (sigma * sqrt(2 * pi) * tau))


def between(low, high, sigma, tau):
    """Probability that it lies between two bounds: the normal's, averaged over the depression."""
    def below(x):
        return erfc(-x / (sigma * sqrt(2))) / 2 if x > -inf else mpf(0)

    points = [mpf(0)] + [tau * k for k in (0.1, 0.5, 1, 2, 4, 8, 16, 32, 64)] + [inf]
    return quad(lambda d: exp(-d / tau) / tau * (below(high + d) - below(low + d)), points)


def levelled(x, sigma, tau, m):
    """The density of `depressed`, level from its mode m to 0, falling back to it by min(1, -m), before scaling."""
    step = min(mpf(1), -m)
    if m < x <= 0:
        return depressed(m, sigma, tau)
    if 0 < x < step:
        return (1 - x / step) * depressed(m, sigma, tau) + x / step * depressed(x, sigma, tau)
    return depressed(x, sigma, tau)


def levelled_total(sigma, tau, m):
    step = min(mpf(1), -m)
    return (between(-inf, m, sigma, tau) - m * depressed(m, sigma, tau)
            + quad(lambda x: levelled(x, sigma, tau, m), [step * k for k in (mpf("1e-20"), mpf("0.5"), 1)])
            + between(step, inf, sigma, tau))


def mode(sigma, tau):
    return findroot(lambda x: diff(lambda y: log(depressed(y, sigma, tau)), x), -min(sigma, tau) / 2)


if __name__ == "__main__":
    with open("erfcx.csv", "w", newline="\n") as out:
        out.write("x,erfcx\n")
        for x in ["-26", "-10", "-3.5", "-1", "-0.1", "0", "1e-9", "0.1", "0.5", "1", "2", "3.75", "5", "10", "26.5",
                  "100", "1000", "1e8"]:
            out.write(f"{x},{nstr(erfcx(mpf(x)), 30)}\n")

    mp.dps = 25
    with open("depressed-normal.csv", "w", newline="\n") as out:
        out.write("sigma,tau,mode,deviation,density\n")
        for sigma, tau in [("1.8", "0.5"), ("1.8", "2"), ("1", "5"), ("3", "12"), ("0.5", "0.05")]:
            s, t = mpf(sigma), mpf(tau)
            m = mode(s, t)
            total = levelled_total(s, t, m)
            for deviation in ["-40", "-10", "-3", "-0.5", "0", "0.5", "2", "6"]:
                density = levelled(mpf(deviation), s, t, m) / total
                out.write(f"{sigma},{tau},{nstr(m, 18)},{deviation},{nstr(density, 18)}\n")

    mp.dps = 40
    for value in coefficients():
        print(nstr(value, 20))
