package org.fairturn.finding;

/**
 * Standard uncertainties of a diameter that more readings do not average away, because tape, eye and method are the same
 * for all of them (m). Each moves every diameter the same way, so that it cancels in a difference as far as it is alike.
 *
 * @param tape from the limits of the tape's class
 * @param edge from how well the cut edge can be seen
 * @param missedCentre from the correction for the missed centre
 */
public record SharedParts(double tape, double edge, double missedCentre) {
    static final SharedParts NONE = new SharedParts(0, 0, 0);

    SharedParts plus(SharedParts other, double times) {
        return new SharedParts(
                tape + times * other.tape, edge + times * other.edge, missedCentre + times * other.missedCentre);
    }

    /** Variance (m²) of all three together. */
    double variance() {
        return tape * tape + edge * edge + missedCentre * missedCentre;
    }

    /** {@return standard uncertainty (m) of all three together} */
    public double standardUncertainty() {
        return Math.sqrt(variance());
    }
}
