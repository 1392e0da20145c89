"""What lies between verticals: unit discharge as a random process pinned at the readings.

Between two verticals nobody has measured.  Unit discharge (depth times velocity) is taken there as
the sum of two random processes along the tape, both known where it was read:

- a **shape**, smooth: its covariance at a distance r is a^2 (1 + r/l) exp(-r/l), with the shape's
  deviation a and length l;
- **unevenness**, stones and wakes: s s' R^2 exp(-r/L), with the local scale s of unit discharge
  (`local_scale`), the unevenness R, a fraction, and its length L.

How smooth and how rough a section is, its readings tell: `between_evidence` is how likely they are
for one choice of a, l, R and L.  `between_variance` is the variance of what mid-section, which goes
straight from reading to reading, then errs by.  Neither needs a matrix: a filter runs along the
tape, and the covariances are summed along it.

Units are the caller's, one throughout: `tape` a length, unit discharge a length times a velocity.
Every sequence has one value for every station, edges of water among them.

Source: ours.  Covariances: Matérn's of smoothness 3/2 and 1/2; the filter: Kalman's (both from
memory, high).
"""

import math

from bankside.kernel.section import Floats, _require_pairs

__all__ = [
    "between_evidence",
    "between_variance",
    "local_scale",
    "mixture_half_width",
    "shared_variance",
]

# Fitted (docs/uncertainty.md): over which part of the width the scale is taken, and how far it
# follows what is read there; the rest is the mean of the section.
_SCALE_REACH = 0.06
_SCALE_POWER = 0.4

# Simpson's rule on five points of an interval, less the straight line between its ends: the
# weights, as fractions of the interval, of what mid-section errs by there.
_ERROR_WEIGHTS = (
    1.0 / 12.0 - 0.5,
    4.0 / 12.0,
    2.0 / 12.0,
    4.0 / 12.0,
    1.0 / 12.0 - 0.5,
)


def local_scale(tape: Floats, unit_discharge: Floats, i: int) -> float:
    """Scale of unit discharge about station `i`: how large unevenness is there, for R = 1.

    The mean amount of unit discharge, near stations weighing most, to a power, times the mean of
    the whole section to the rest of it: rough water carries more where more flows, yet not in
    proportion.

    Raises ValueError for fewer than two stations, unequal lengths or stations in one place,
    IndexError when there is no station `i`.

    Source: ours.
    """
    _require_pairs(tape, unit_discharge)
    if i < 0 or i >= len(tape):
        raise IndexError("no vertical has this index")
    count = len(tape)
    width = tape[count - 1] - tape[0]
    if not width > 0.0:
        raise ValueError("a section is wider than 0")
    near, weights, whole = 0.0, 0.0, 0.0
    for j in range(count):
        panel = (tape[min(j + 1, count - 1)] - tape[max(j - 1, 0)]) / 2.0
        away = (tape[j] - tape[i]) / (width * _SCALE_REACH)
        weight = panel * math.exp(-0.5 * away * away)
        amount = abs(unit_discharge[j])
        near += weight * amount
        weights += weight
        whole += panel * amount
    return math.pow(near / weights, _SCALE_POWER) * math.pow(whole / width, 1.0 - _SCALE_POWER)


def _require_lengths(tape: Floats, shape_length: float, unevenness_length: float) -> None:
    """Refuse lengths that are none, and stations that do not go along the tape."""
    if not (shape_length > 0.0 and unevenness_length > 0.0):
        raise ValueError("a length of correlation is above 0")
    for i in range(1, len(tape)):
        if not tape[i] > tape[i - 1]:
            raise ValueError("tape positions increase from each station to the next")


def between_evidence(
    tape: Floats,
    unit_discharge: Floats,
    reading_variance: Floats,
    scale: Floats,
    shape_deviation: float,
    shape_length: float,
    unevenness: float,
    unevenness_length: float,
) -> float:
    """Logarithm of how likely the readings are, but for a constant, if the section is like this.

    `reading_variance` is the variance of each reading of unit discharge by itself, `scale` what
    `local_scale` gives.  Goes along the tape: shape, its slope and unevenness are foretold from
    what was read so far, and each reading corrects them.

    Raises ValueError for fewer than two stations, unequal lengths, lengths of correlation not above
    0, tape positions that do not increase, or a reading that nothing leaves uncertain.

    Source: ours; the filter is Kalman's (from memory, high).
    """
    _require_pairs(tape, unit_discharge)
    _require_pairs(tape, reading_variance)
    _require_pairs(tape, scale)
    _require_lengths(tape, shape_length, unevenness_length)
    shape_variance = shape_deviation * shape_deviation
    slope_variance = shape_variance / (shape_length * shape_length)
    # What is known of shape (0), its slope (1) and unevenness in units of its scale (2).
    m0, m1, m2 = 0.0, 0.0, 0.0
    p00, p01, p02, p11, p12, p22 = shape_variance, 0.0, 0.0, slope_variance, 0.0, 1.0
    evidence = 0.0
    for i in range(len(tape)):
        if i > 0:
            step = tape[i] - tape[i - 1]
            far = step / shape_length
            fade = math.exp(-far)
            f00, f01 = fade * (1.0 + far), fade * step
            f10, f11 = -fade * far / shape_length, fade * (1.0 - far)
            rho = math.exp(-step / unevenness_length)
            m0, m1, m2 = f00 * m0 + f01 * m1, f10 * m0 + f11 * m1, rho * m2
            # What is known less what nothing known would leave, carried on, plus that again.
            d00, d11, d22 = p00 - shape_variance, p11 - slope_variance, p22 - 1.0
            p00 = shape_variance + f00 * (f00 * d00 + 2.0 * f01 * p01) + f01 * f01 * d11
            p11 = slope_variance + f10 * (f10 * d00 + 2.0 * f11 * p01) + f11 * f11 * d11
            p01 = f00 * f10 * d00 + (f00 * f11 + f01 * f10) * p01 + f01 * f11 * d11
            p02, p12 = rho * (f00 * p02 + f01 * p12), rho * (f10 * p02 + f11 * p12)
            p22 = 1.0 + rho * rho * d22
        c = unevenness * scale[i]
        k0, k1, k2 = p00 + c * p02, p01 + c * p12, p02 + c * p22
        variance = k0 + c * k2 + reading_variance[i]
        if not variance > 0.0:
            raise ValueError("a reading is uncertain by something")
        off = unit_discharge[i] - m0 - c * m2
        evidence -= 0.5 * (off * off / variance + math.log(variance))
        g0, g1, g2 = k0 / variance, k1 / variance, k2 / variance
        m0, m1, m2 = m0 + g0 * off, m1 + g1 * off, m2 + g2 * off
        p00, p01, p02 = p00 - g0 * k0, p01 - g0 * k1, p02 - g0 * k2
        p11, p12, p22 = p11 - g1 * k1, p12 - g1 * k2, p22 - g2 * k2
    return evidence


def between_variance(
    tape: Floats,
    unit_discharge: Floats,
    scale: Floats,
    shape_deviation: float,
    shape_length: float,
    unevenness: float,
    unevenness_length: float,
    first: int,
    last: int,
) -> float:
    """Variance of what mid-section errs by from station `first` to `last`, squared discharge.

    An interval with no flow at either end has none between.  Errors of neighbouring intervals go
    together, as both rest on the reading between them.

    Raises ValueError as `between_evidence` does, IndexError where there is no station `first`, or
    none `last` after it.

    Source: ours.
    """
    _require_pairs(tape, unit_discharge)
    _require_pairs(tape, scale)
    _require_lengths(tape, shape_length, unevenness_length)
    if not 0 <= first < last < len(tape):
        raise IndexError("no vertical has this index")
    # The sum of w w' cov, as sums along the tape.
    shape, rough = 0.0, 0.0
    # Weights that were passed, faded by the distance since; s1 with that distance as a factor.
    s0, s1, r0 = 0.0, 0.0, 0.0
    for i in range(first, last):
        width = tape[i + 1] - tape[i]
        flows = unit_discharge[i] != 0.0 or unit_discharge[i + 1] != 0.0
        step = width / 4.0
        far = step / shape_length
        fade, rho = math.exp(-far), math.exp(-step / unevenness_length)
        for j in range(5):
            if j > 0:
                s1 = (s1 + far * s0) * fade
                s0, r0 = s0 * fade, r0 * rho
            if flows:
                weight = width * _ERROR_WEIGHTS[j]
                shape += weight * (weight + 2.0 * (s0 + s1))
                s0 += weight
                weight *= scale[i] + (scale[i + 1] - scale[i]) * (j / 4.0)
                rough += weight * (weight + 2.0 * r0)
                r0 += weight
    variance = shape_deviation * shape_deviation * shape + unevenness * unevenness * rough
    # What cancels out may leave less than nothing by rounding.
    return max(variance, 0.0)


def shared_variance(tape: Floats, deviation: Floats, length: float) -> float:
    """Variance of the sum of errors that neighbouring stations share.

    The sum of s s' exp(-r / length) over all pairs of stations, r apart, with their standard
    deviations s: stations far apart err by themselves, those side by side together.

    Raises ValueError for fewer than two stations, unequal lengths, a length of correlation not
    above 0, or tape positions that do not increase.
    """
    _require_pairs(tape, deviation)
    _require_lengths(tape, length, length)
    variance, before = 0.0, 0.0
    for i in range(len(tape)):
        if i > 0:
            before *= math.exp(-(tape[i] - tape[i - 1]) / length)
        variance += deviation[i] * (deviation[i] + 2.0 * before)
        before += deviation[i]
    return max(variance, 0.0)


def mixture_half_width(weights: Floats, deviations: Floats, probability: float) -> float:
    """Half the width of the interval about 0 that holds a normal error with this probability.

    The error's deviation is one of `deviations`, each with its weight, in whatever sum of them.

    Raises ValueError for unequal lengths, nothing to weigh, weights or deviations below 0, or a
    probability not between 0 and 1.
    """
    if len(weights) != len(deviations):
        raise ValueError("there is one weight for every deviation")
    if not 0.0 < probability < 1.0:
        raise ValueError("a probability lies between 0 and 1")
    whole, largest = 0.0, 0.0
    for i in range(len(weights)):
        if not (weights[i] >= 0.0 and deviations[i] >= 0.0):
            raise ValueError("weights and deviations are not below 0")
        whole += weights[i]
        largest = max(largest, deviations[i])
    if not whole > 0.0:
        raise ValueError("there is nothing to weigh")
    low, high = 0.0, 9.0 * largest
    # Each step halves what is left: after 60 it is below rounding.
    for _ in range(60):
        middle = (low + high) / 2.0
        within = 0.0
        for i in range(len(weights)):
            if deviations[i] > 0.0:
                within += weights[i] * math.erf(middle / (deviations[i] * math.sqrt(2.0)))
            else:
                within += weights[i]
        if within < probability * whole:
            low = middle
        else:
            high = middle
    return high
