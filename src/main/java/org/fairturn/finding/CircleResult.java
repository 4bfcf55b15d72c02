package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Reading;
import org.fairturn.uncertainty.CircleSummary;

/**
 * A circle with its diameters.
 *
 * @param circle as it was read
 * @param observations every reading of it as a diameter
 * @param summary what its readings say together; empty where it has none
 */
public record CircleResult(Circle circle, List<Observation> observations, Optional<CircleSummary> summary) {
    /**
     * Keeps its own copy of the list.
     *
     * @param circle as it was read
     * @param observations every reading of it as a diameter
     * @param summary what its readings say together; empty where it has none
     */
    public CircleResult {
        observations = List.copyOf(observations);
    }

    static CircleResult of(Circle circle, Observations observations) {
        return of(circle, observations.of(circle));
    }

    private static CircleResult of(Circle circle, List<Observation> all) {
        Optional<CircleSummary> summary = all.isEmpty()
                ? Optional.empty()
                : Optional.of(CircleSummary.of(
                        all.stream().mapToDouble(Observation::diameter).toArray(),
                        all.stream().mapToDouble(Observation::varianceFactor).toArray()));
        return new CircleResult(circle, all, summary);
    }

    /** The circle as it would be without one of its readings; observations are in the order of the readings, points last. */
    CircleResult without(Observation observation) {
        int out = observations.indexOf(observation);
        List<Observation> rest = new ArrayList<>(observations);
        rest.remove(out);
        List<Reading> readings = new ArrayList<>(circle.readings());
        if (out < readings.size()) {
            readings.remove(out);
        }
        return of(circle.withReadings(readings), rest);
    }

    /** Whether it counts: it has readings and nobody took it out. */
    boolean counts() {
        return circle.use() && summary.isPresent();
    }

    /** The parts that do not average, each reading weighted as in the circle's mean. */
    SharedParts shared() {
        SharedParts sum = SharedParts.NONE;
        double weight = 0;
        for (Observation observation : observations) {
            sum = sum.plus(observation.shared(), 1 / observation.varianceFactor());
            weight += 1 / observation.varianceFactor();
        }
        return SharedParts.NONE.plus(sum, 1 / weight);
    }
}
