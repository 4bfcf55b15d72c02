package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Trial;
import org.fairturn.uncertainty.CircleData;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.NormalMixture;
import org.fairturn.uncertainty.PlainPosterior;
import org.fairturn.uncertainty.RepeatabilityPosterior;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What is worked out quickly against the same worked out plainly, slowly and in full. */
class PlainVersionTest {
    private static Trial trial(String folder) {
        return TrialFolder.read(Path.of("testdata", folder)).fold(TrialRead.Complete::trial, faulty -> {
            throw new AssertionError(faulty.problems());
        });
    }

    private static List<CircleResult> circles(Trial trial) {
        Observations observations = new Observations(trial.conditions());
        return trial.circles().stream()
                .map(c -> CircleResult.of(c, observations))
                .toList();
    }

    private static List<MachineEstimate> machines(Trial trial, List<CircleResult> circles) {
        return trial.machines().stream()
                .map(m -> MachineEstimate.of(m, trial.conditions(), circles))
                .flatMap(Optional::stream)
                .toList();
    }

    private static PlainPosterior plain(MachineEstimate machine, Conditions conditions) {
        CircleData data = MachineEstimate.data(machine.circles());
        return new PlainPosterior(
                data, Priors.circle(conditions), Priors.reading(conditions), MachineEstimate.RESOLUTION);
    }

    /**
     * Whatever is asked of one machine is a contrast of this form: its cells one by one, and others drawn at random, with known
     * variance and new circles besides. Lengths agree to 1e-9 of a metre or of themselves. Probabilities agree to 2e-9 and the
     * standard uncertainty to 1e-8 of itself: as much lies in the points the quick version leaves out, each below 1e-12 of the
     * whole.
     */
    @ParameterizedTest
    @ValueSource(strings = {"demo", "complaint", "metric"})
    void everyContrastOfAMachine_isThatOfThePlainSum(String folder) {
        Trial trial = trial(folder);
        var random = new SplittableRandom(7);
        for (MachineEstimate machine : machines(trial, circles(trial))) {
            PlainPosterior plain = plain(machine, trial.conditions());
            int cells = machine.cells().size();
            for (int i = 0; i < 2 * cells; i++) {
                double[] c = new double[cells];
                for (int k = 0; k < cells; k++) {
                    c[k] = i < cells ? (i == k ? 1 : 0) : 2 * random.nextDouble() - 1;
                }
                double further = i < cells ? 0 : 1e-4 * random.nextDouble();
                double newCircle = i % 3 == 0 ? 0.5 : 0;
                agree(
                        machine.posterior().contrast(c, 0.1, further, newCircle),
                        plain.contrast(c, 0.1, further, newCircle));
                assertThat(machine.posterior().mean(c, 0.1))
                        .isCloseTo(plain.contrast(c, 0.1, further, newCircle).mean(), within(1e-9));
                assertThat(Math.sqrt(machine.posterior().variance(c, further, newCircle)))
                        .isCloseTo(plain.contrast(c, 0.1, further, newCircle).standardDeviation(), within(1e-9));
            }
        }
    }

    private static void agree(NormalMixture quick, PlainPosterior.Contrast plain) {
        Estimate estimate = quick.estimate(0.95);
        double u = plain.standardDeviation();
        double length = Math.max(1, Math.abs(plain.mean()));
        assertThat(estimate.value()).isCloseTo(plain.mean(), within(1e-9 * length));
        assertThat(estimate.standardUncertainty()).isCloseTo(u, within(1e-8 * u));
        assertThat(estimate.low()).isCloseTo(plain.quantile(0.025), within(1e-9 * length));
        assertThat(estimate.high()).isCloseTo(plain.quantile(0.975), within(1e-9 * length));
        for (double z = -4; z <= 4; z += 0.5) {
            double x = plain.mean() + z * u;
            assertThat(quick.probabilityBelow(x)).isCloseTo(plain.probabilityBelow(x), within(2e-9));
        }
    }

    /** Machines side by side, in each cell both have: the sum of two plain contrasts, integrated over one of them. */
    @Test
    void everyDifferenceOfTwoMachines_isThatOfThePlainSums() {
        Trial trial = trial("demo");
        List<MachineEstimate> machines = machines(trial, circles(trial));
        MachinePair pair = new MachinePair(machines.get(0), machines.get(1), 0.95);
        PlainPosterior first = plain(pair.first(), trial.conditions());
        PlainPosterior second = plain(pair.second(), trial.conditions());
        assertThat(pair.common()).isNotEmpty();
        for (Cell cell : pair.common()) {
            double[] a = pair.first().coefficients(Map.of(cell, -1.0));
            double[] b = pair.second().coefficients(Map.of(MachinePair.like(cell, pair.second()), 1.0));
            double shared =
                    pair.first().shared(a).plus(pair.second().shared(b), 1).variance();
            PlainPosterior.Contrast one = first.contrast(a, 0, shared, 0);
            PlainPosterior.Contrast other = second.contrast(b, 0, 0, 0);
            NormalMixture quick = pair.difference(List.of(cell)).mixture();
            for (double z = -3; z <= 3; z += 1.5) {
                double x = quick.mean() + z * quick.standardDeviation();
                // of which 2e-9 for the points the quick version leaves out, as above
                assertThat(quick.probabilityBelow(x))
                        .as("%s at %s", cell, z)
                        .isCloseTo(one.probabilityOfSumBelow(other, x), within(3e-9));
            }
        }
    }

    /** A change to the trial and every finding with it, in full. */
    private record Again(String what, List<Finding> findings) {}

    private static Again again(String what, Trial trial, List<CircleResult> circles) {
        return new Again(what, findings(trial, circles));
    }

    private static List<Finding> findings(Trial trial, List<CircleResult> circles) {
        return Answers.of(new Asked(trial, circles, machines(trial, circles))).findings();
    }

    private static List<CircleResult> replaced(List<CircleResult> all, CircleResult out, Optional<CircleResult> in) {
        List<CircleResult> rest = new ArrayList<>();
        all.forEach(c -> {
            if (!c.equals(out)) {
                rest.add(c);
            } else {
                in.ifPresent(rest::add);
            }
        });
        return rest;
    }

    /** The same verdict, and on the same side. */
    private static boolean same(Finding finding, List<Finding> then) {
        return then.stream()
                .filter(finding::answersTheSameAs)
                .findFirst()
                .map(f -> finding.saysTheSameAs(f, !f.subject().equals(finding.subject())))
                .orElse(false);
    }

    @ParameterizedTest
    @ValueSource(strings = {"demo", "complaint", "metric"})
    void whatOverturnsAVerdict_isWhatFullAnalysesOfTheChangedTrialSay(String folder) {
        Trial trial = trial(folder);
        List<CircleResult> circles = circles(trial);
        List<Again> leftOut = new ArrayList<>();
        for (CircleResult circle : circles) {
            if (circle.counts()) {
                String id = "circle " + circle.circle().id();
                leftOut.add(again(id, trial, replaced(circles, circle, Optional.empty())));
                if (circle.observations().size() > 1) {
                    for (Observation reading : circle.observations()) {
                        leftOut.add(again(
                                reading.kind().equals(Observations.PERIMETER) ? "points of " + id : reading.where(),
                                trial,
                                replaced(circles, circle, Optional.of(circle.without(reading)))));
                    }
                }
            }
        }
        Again halved = again("", trial.withConditions(trial.conditions().withAssumedRepeatability(0.5)), circles);
        Again doubled = again("", trial.withConditions(trial.conditions().withAssumedRepeatability(2)), circles);
        List<Finding> decided = Analysis.of(trial).findings().stream()
                .filter(f -> f.verdict().decided())
                .toList();
        assertThat(decided).isNotEmpty();
        for (Finding finding : decided) {
            Robustness robustness = finding.robustness().orElseThrow();
            Set<String> fallsWithout = new LinkedHashSet<>();
            leftOut.stream().filter(a -> !same(finding, a.findings())).forEach(a -> fallsWithout.add(a.what()));
            assertThat(robustness.fallsWithout())
                    .as(finding.subject().toString())
                    .containsExactlyInAnyOrderElementsOf(fallsWithout);
            assertThat(robustness.standsWithHalvedRepeatability())
                    .as(finding.subject().toString())
                    .isEqualTo(same(finding, halved.findings()));
            assertThat(robustness.standsWithDoubledRepeatability())
                    .as(finding.subject().toString())
                    .isEqualTo(same(finding, doubled.findings()));
            assertThat(robustness.standsWithDeckAtEitherEnd())
                    .as(finding.subject().toString())
                    .isEqualTo(trial.machines().stream()
                            .filter(m -> concerns(finding, m))
                            .allMatch(m -> List.of(-2.0, 2.0).stream()
                                    .allMatch(u -> same(
                                            finding,
                                            findings(trial.withMachine(DeckModel.movedLeft(m, u)), circles)))));
        }
    }

    private static boolean concerns(Finding finding, Machine machine) {
        Map<String, String> subject = finding.subject();
        return finding.question() == Question.COMPLAINT
                || !subject.containsKey("machine")
                || machine.id().equals(subject.get("machine"))
                || machine.id().equals(subject.get("other"));
    }

    /** Posteriors that are only near, for verdicts: every circle left out, held against the posterior worked out in full. */
    @Test
    void nearPosterior_isOffByLessThanItSays() {
        double worst = 0;
        double evidence = 0;
        for (String folder : List.of("demo", "complaint", "metric", "tape-only")) {
            Trial trial = trial(folder);
            List<CircleResult> circles = circles(trial);
            for (MachineEstimate machine : machines(trial, circles)) {
                for (CircleResult out : circles) {
                    List<CircleResult> rest = replaced(circles, out, Optional.empty());
                    Optional<MachineEstimate> full = MachineEstimate.of(machine.machine(), trial.conditions(), rest);
                    if (full.isEmpty()) {
                        continue;
                    }
                    var near = machine.posterior()
                            .near(
                                    MachineEstimate.data(full.get().circles()),
                                    Priors.circle(trial.conditions()),
                                    Priors.reading(trial.conditions()));
                    evidence = Math.max(
                            evidence,
                            Math.abs(near.logEvidence() - full.get().posterior().logEvidence()));
                    for (int k = 0; k < full.get().cells().size(); k++) {
                        double[] c = new double[full.get().cells().size()];
                        c[k] = 1;
                        NormalMixture exact = full.get().posterior().contrast(c, 0, 0);
                        NormalMixture quick = near.contrast(c, 0, 0);
                        for (double z = -4; z <= 4; z += 0.25) {
                            double x = exact.mean() + z * exact.standardDeviation();
                            worst = Math.max(worst, Math.abs(exact.probabilityBelow(x) - quick.probabilityBelow(x)));
                        }
                    }
                }
            }
        }
        System.out.printf(Locale.ROOT, "near: probability off by %.1e, evidence by %.1e in ln%n", worst, evidence);
        assertThat(worst).isLessThan(RepeatabilityPosterior.NEARLY);
        assertThat(evidence).isLessThan(SwappedLabels.NEARLY);
    }
}
