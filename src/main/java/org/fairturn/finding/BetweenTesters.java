package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Conditions;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.Interlaboratory;
import org.fairturn.uncertainty.NormalMixture;
import org.fairturn.uncertainty.RepeatabilityPosterior;
import org.fairturn.uncertainty.ScatterPosterior;

/**
 * Do those who measured read alike?
 *
 * <p>A reading is its circle, plus what its measurer always adds, plus scatter. Only circles that two or more measured tell
 * measurers apart; least squares over all of them, each reading with the same weight, tells how far (S. R. Searle, Linear
 * Models, 1971, chapter 7, from memory). Two are held against each other; of three or more, each against the mean of the
 * others. The larger reader comes first, so that no name decides a sign.
 */
final class BetweenTesters {
    private static final int LEVELS = 8;
    /** Part of the practical margin. Our own choice. */
    private static final double WORTH_NAMING = 0.1;

    private final DecisionRule rule;
    private final Wording wording;
    private final Conditions conditions;
    /** Diameters by circle and measurer. */
    private final Map<String, Map<String, List<Double>>> circles = new LinkedHashMap<>();

    private final List<CircleResult> counted;
    private final List<Answer<Asked>> answers = new ArrayList<>();
    private volatile Optional<Testers> result = Optional.empty();

    /** The same of each circle as it was found. */
    private final IdentityHashMap<CircleResult, Map<String, List<Double>>> known = new IdentityHashMap<>();

    private BetweenTesters(Asked asked, IdentityHashMap<CircleResult, Map<String, List<Double>>> knownAlready) {
        this.conditions = asked.trial().conditions();
        this.rule = asked.rule();
        this.wording = asked.wording();
        this.counted = new ArrayList<>();
        for (CircleResult circle : asked.circles()) {
            if (circle.counts()) {
                counted.add(circle);
            }
        }
        for (CircleResult circle : counted) {
            Map<String, List<Double>> found = knownAlready.get(circle);
            Map<String, List<Double>> byMeasurer = found == null ? byMeasurer(circle) : found;
            known.put(circle, byMeasurer);
            if (!byMeasurer.isEmpty()) {
                circles.put(circle.circle().id(), byMeasurer);
            }
        }
    }

    private static Map<String, List<Double>> byMeasurer(CircleResult circle) {
        Map<String, List<Double>> byMeasurer = new TreeMap<>();
        for (int i = 0; i < circle.circle().readings().size(); i++) {
            String measurer = circle.circle().readings().get(i).measurer();
            Observation observation = circle.observations().get(i);
            if (!measurer.isEmpty() && observation.kind().equals("across")) {
                byMeasurer.computeIfAbsent(measurer, k -> new ArrayList<>()).add(observation.diameter());
            }
        }
        return byMeasurer;
    }

    static BetweenTesters of(Asked asked) {
        BetweenTesters testers = new BetweenTesters(asked, new IdentityHashMap<>());
        TreeSet<String> all = new TreeSet<>();
        testers.circles.values().forEach(c -> all.addAll(c.keySet()));
        if (all.size() > 1) {
            testers.answer(all);
        }
        return testers;
    }

    /** What each found; empty where fewer than two measured, or never the same circle. */
    Optional<Testers> result() {
        return result;
    }

    /** None where fewer than two measured. */
    List<Answer<Asked>> answers() {
        return answers;
    }

    private void answer(SortedSet<String> all) {
        List<Testers.Level> levels = circles.entrySet().stream()
                .filter(c -> c.getValue().size() > 1)
                .map(c -> new Testers.Level(c.getKey(), Interlaboratory.of(c.getValue())))
                .toList();
        if (levels.isEmpty()) {
            answers.add(Answer.open(notPossible(all)));
            return;
        }
        Testers testers = new Testers(
                levels,
                Interlaboratory.precision(
                        levels.stream().map(Testers.Level::measured).toList()));
        result = Optional.of(testers);
        TreeSet<String> left = new TreeSet<>(all);
        while (!left.isEmpty()) {
            List<String> group = connected(left.first());
            left.removeAll(group);
            if (group.size() > 1) {
                new Fit(group).compare(testers);
            }
        }
    }

    /** The same difference in a changed trial; empty where the measurer is not connected with just the same others there. */
    private Optional<Answer.Then> again(Asked changed, List<String> group, String measurer) {
        BetweenTesters testers = new BetweenTesters(changed, known);
        return testers.connected(measurer).equals(group)
                ? Optional.of(testers.new Fit(group).then(group.indexOf(measurer)))
                : Optional.empty();
    }

    /** Everyone a chain of circles in common leads to. */
    private List<String> connected(String first) {
        Set<String> group = new TreeSet<>(List.of(first));
        int size = 0;
        while (group.size() > size) {
            size = group.size();
            for (Map<String, List<Double>> circle : circles.values()) {
                if (!Collections.disjoint(group, circle.keySet())) {
                    group.addAll(circle.keySet());
                }
            }
        }
        return List.copyOf(group);
    }

    /**
     * A difference of effects.
     *
     * @param factor its variance by that of one reading
     * @param fresh the same where each measures one circle once
     */
    private record Contrast(double estimate, double factor, double fresh) {
        NormalMixture of(ScatterPosterior scatter) {
            return scatter.contrast(estimate, factor);
        }
    }

    /** The least-squares fit of one group. */
    private final class Fit {
        private final List<String> group;
        private final double[] effect;
        private final RealMatrix inverse;
        private final double sumOfSquares;
        private final int degrees;
        private ScatterPosterior scatter;
        private final int common;

        Fit(List<String> group) {
            this.group = group;
            int p = group.size();
            double[][] normal = new double[p][p];
            double[] right = new double[p];
            // of each circle the readings of each of the group
            List<double[][]> own = new ArrayList<>();
            int several = 0;
            for (Map<String, List<Double>> circle : circles.values()) {
                if (group.containsAll(circle.keySet())) {
                    own.add(readings(circle));
                    several += circle.size() > 1 ? 1 : 0;
                }
            }
            common = several;
            for (double[][] circle : own) {
                double n = count(circle);
                double mean = mean(circle, new double[p]);
                for (int j = 0; j < p; j++) {
                    normal[j][j] += circle[j].length;
                    for (double y : circle[j]) {
                        right[j] += y - mean;
                    }
                    for (int k = 0; k < p; k++) {
                        normal[j][k] -= circle[j].length * circle[k].length / n;
                    }
                }
            }
            // what all of them add cannot be told from the circles; the ones fix their sum at zero
            for (double[] row : normal) {
                for (int k = 0; k < p; k++) {
                    row[k] += 1;
                }
            }
            inverse = new LUDecomposition(new Array2DRowRealMatrix(normal))
                    .getSolver()
                    .getInverse();
            effect = inverse.operate(right);
            double squares = 0;
            int readings = 0;
            for (double[][] circle : own) {
                double mean = mean(circle, effect);
                for (int j = 0; j < p; j++) {
                    for (double y : circle[j]) {
                        double residual = y - mean - effect[j];
                        squares += residual * residual;
                        readings++;
                    }
                }
            }
            sumOfSquares = squares;
            degrees = readings - own.size() - (p - 1);
        }

        private ScatterPosterior scatter() {
            if (scatter == null) {
                scatter = ScatterPosterior.of(
                        sumOfSquares, degrees, Priors.reading(conditions), MachineEstimate.RESOLUTION);
            }
            return scatter;
        }

        private double[][] readings(Map<String, List<Double>> circle) {
            double[][] readings = new double[group.size()][];
            for (int j = 0; j < readings.length; j++) {
                List<Double> own = circle.getOrDefault(group.get(j), List.of());
                readings[j] = new double[own.size()];
                for (int i = 0; i < readings[j].length; i++) {
                    readings[j][i] = own.get(i);
                }
            }
            return readings;
        }

        private double count(double[][] circle) {
            int count = 0;
            for (double[] readings : circle) {
                count += readings.length;
            }
            return count;
        }

        /** Mean of a circle's readings, each less its measurer's effect. */
        private double mean(double[][] circle, double[] effects) {
            double first = Double.NaN;
            double sum = 0;
            for (int j = 0; j < circle.length; j++) {
                for (double y : circle[j]) {
                    first = Double.isNaN(first) ? y : first;
                    sum += y - first - effects[j];
                }
            }
            return first + sum / count(circle);
        }

        void compare(Testers testers) {
            List<Integer> larger = IntStream.range(0, group.size())
                    .boxed()
                    .sorted(Comparator.comparingDouble((Integer j) -> -effect[j]))
                    .toList();
            for (int j : group.size() == 2 ? larger.subList(0, 1) : larger) {
                String measurer = group.get(j);
                answers.add(new Answer<>(compare(j, testers), Set.of(), changed -> again(changed, group, measurer)));
            }
        }

        /** One against the mean of the others. */
        private Contrast contrast(int j) {
            int p = group.size();
            double[] c = new double[p];
            for (int k = 0; k < p; k++) {
                c[k] = k == j ? 1 : -1.0 / (p - 1);
            }
            double estimate = 0;
            double factor = 0;
            double fresh = 0;
            double[] through = inverse.operate(c);
            for (int k = 0; k < p; k++) {
                estimate += c[k] * effect[k];
                factor += c[k] * through[k];
                fresh += c[k] * c[k];
            }
            return new Contrast(estimate, factor, fresh);
        }

        /** Worked out roughly, as long as that does not leave it open; its shape is looked at only where that may matter. */
        Answer.Then then(int j) {
            Contrast contrast = contrast(j);
            ScatterPosterior rough = ScatterPosterior.roughly(
                    sumOfSquares, degrees, Priors.reading(conditions), MachineEstimate.RESOLUTION);
            double value = contrast.estimate();
            double u = Math.sqrt(contrast.factor() * rough.variance());
            return new Answer.Then(
                    rule.whateverTheShape(value, u, DecisionRule.Asks.UNSIGNED).or(() -> decided(contrast, rough)),
                    value,
                    u);
        }

        private Optional<Verdict> decided(Contrast contrast, ScatterPosterior rough) {
            DecisionRule.Chances q = rule.chances(contrast.of(rough));
            return rule.decide(
                    rule.isClose(q, ScatterPosterior.ROUGHLY) ? rule.chances(contrast.of(scatter())) : q,
                    DecisionRule.Asks.UNSIGNED);
        }

        private Finding compare(int j, Testers testers) {
            int p = group.size();
            Contrast contrast = contrast(j);
            NormalMixture q = contrast.of(scatter());
            List<String> others =
                    group.stream().filter(g -> !g.equals(group.get(j))).toList();
            Map<String, String> subject = new LinkedHashMap<>();
            subject.put("measurer", group.get(j));
            subject.put("others", String.join(", ", others));
            DecisionRule.Chances chances = rule.chances(q);
            Optional<Verdict> decided = rule.decide(chances, DecisionRule.Asks.UNSIGNED);
            Outlook outlook = decided.isPresent() ? Outlook.NOT_LOOKED_FOR : outlook(contrast);
            Verdict verdict = decided.orElseGet(() -> new Verdict.CannotTell(chances.likeliest(), outlook));
            boolean rests = scatter().assumedShare() > MachineEstimate.MOSTLY;
            return new Finding(
                    Question.TESTERS,
                    subject,
                    verdict,
                    true,
                    Optional.of(q.estimate(rule.confidence())),
                    rule.margin(),
                    List.of(),
                    OptionalDouble.empty(),
                    rests,
                    sentence(j, others, q.estimate(rule.confidence()), verdict)
                            + (rests
                                    ? " This rests on the assumed reading repeatability: they measured too little in common"
                                            + " to show how much readings scatter."
                                    : "")
                            + precision(testers)
                            + standingOut(group.get(j), others, testers),
                    next(verdict, p),
                    Optional.empty());
        }

        private Outlook outlook(Contrast contrast) {
            List<RepeatabilityPosterior.Level> levels = scatter().levels(LEVELS).stream()
                    .map(l -> new RepeatabilityPosterior.Level(
                            l[0], List.of(contrast.fresh() * l[1]), List.of(contrast.factor() * l[1])))
                    .toList();
            Cell anyCell = counted.get(0).circle().cell();
            return Outlook.of(List.of(anyCell), new double[] {1}, contrast.estimate(), 0, levels, rule);
        }

        private String sentence(int j, List<String> others, Estimate d, Verdict verdict) {
            String margin = "the practical margin of " + wording.amount(rule.margin());
            return group.get(j) + " reads "
                    + wording.amount(d)
                    + (d.value() < 0 ? " less than " : " more than ")
                    + (others.size() == 1 ? others.get(0) : "the mean of " + listed(others))
                    + " on the same circles (" + common + " in common), "
                    + wording.towards(d)
                    + "; that "
                    + verdict.<String>fold(
                            w -> "is within " + margin + Wording.surely(w.probability())
                                    + ": it does not matter which of them measures.",
                            b -> "is beyond " + margin + Wording.surely(b.probability()) + ": it matters who measures.",
                            c -> "may lie on either side of " + margin + ": this trial cannot tell yet.",
                            n -> "");
        }
    }

    private String precision(Testers testers) {
        OptionalDouble r = testers.precision().repeatability();
        return r.isEmpty()
                ? " Nobody laid the tape across the same circle twice, so that repeatability and reproducibility cannot be"
                        + " told apart."
                : " The same measurer on the same circle repeats to " + wording.amount(r.getAsDouble())
                        + " (repeatability s_r), another one to "
                        + wording.amount(testers.precision().reproducibility().orElseThrow())
                        + " (reproducibility s_R), both standard deviations.";
    }

    /**
     * Where h or k points at this one, or, where there are two, at either. What is less than a tenth of the practical margin
     * is rounding of the tape, and nobody is named for it.
     */
    private String standingOut(String measurer, List<String> others, Testers testers) {
        List<String> asked = new ArrayList<>(List.of(measurer));
        if (others.size() == 1) {
            asked.addAll(others);
        }
        StringBuilder text = new StringBuilder();
        for (String who : asked.stream().sorted().toList()) {
            List<String> off = testers.levels().stream()
                    .filter(l -> liesOff(l.measured(), who))
                    .map(Testers.Level::circle)
                    .sorted()
                    .toList();
            if (!off.isEmpty()) {
                text.append(" " + who + " lies conspicuously far from the others on "
                        + (off.size() == 1 ? "circle " : "circles ") + listed(off) + " (Mandel's h).");
            }
            Optional.ofNullable(testers.scatter().get(who))
                    .filter(Interlaboratory.Scatter::standsOut)
                    .flatMap(k -> widest(testers, who))
                    .ifPresent(circle -> text.append(" " + who
                            + "'s readings scatter conspicuously more than the others', most of all on circle " + circle
                            + " (Mandel's k): look there for a misread tape."));
        }
        return text.toString();
    }

    private static String listed(List<String> names) {
        int last = names.size() - 1;
        return last == 0
                ? names.get(0)
                : names.stream().limit(last).collect(Collectors.joining(", ")) + " and " + names.get(last);
    }

    private boolean liesOff(Interlaboratory level, String who) {
        return IntStream.range(0, level.groups().size())
                .anyMatch(i -> level.groups().get(i).label().equals(who)
                        && level.standsOutByH(i, Testers.ALPHA)
                        && Math.abs(level.groups().get(i).mean() - level.mean()) > WORTH_NAMING * rule.margin());
    }

    /** The circle one measurer's readings scatter most on. */
    private Optional<String> widest(Testers testers, String who) {
        String circle = "";
        double most = WORTH_NAMING * rule.margin();
        for (Testers.Level level : testers.levels()) {
            for (Interlaboratory.Group group : level.measured().groups()) {
                if (group.label().equals(who) && group.standardDeviation().orElse(0) > most) {
                    most = group.standardDeviation().getAsDouble();
                    circle = level.circle();
                }
            }
        }
        return circle.isEmpty() ? Optional.empty() : Optional.of(circle);
    }

    private static String next(Verdict verdict, int measurers) {
        String each = measurers == 2 ? "both of them" : "all of them";
        return verdict.fold(
                w -> "Let any of them measure.",
                b -> "Agree at the circle where the cut edge is, mark it, and let " + each
                        + " lay the tape across it again. Until then compare only what the same one measured.",
                c -> c.outlook().furtherCircles().isEmpty()
                        ? "Let one of them measure everything, or let " + each + " measure every circle."
                        : "Let " + each + " lay the tape across "
                                + (c.outlook().total() == 1
                                        ? "1 more circle"
                                        : c.outlook().total() + " more circles")
                                + "; then the chance of a verdict is "
                                + Wording.chance(c.outlook())
                                + ".",
                n -> "");
    }

    private Finding notPossible(SortedSet<String> all) {
        String missing = "a circle that two of them measured straight across";
        return Finding.notPossible(
                Question.TESTERS,
                Map.of("measurer", String.join(", ", all)),
                List.of(missing),
                rule,
                List.of(),
                true,
                listed(List.copyOf(all)) + ": whether they read alike cannot be said yet. Missing: " + missing + ".",
                "Let each of them lay the tape across the same two or three circles.");
    }
}
