package org.fairturn.uncertainty;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * One level (a circle, a material) measured by several laboratories (people with a tape, days), each once or several times:
 * repeatability and reproducibility, and who stands out.
 *
 * @param groups what each found, in the order given
 * @param mean of all values (m̂)
 * @see "ISO 5725-2:1994, 7.4 (general means and variances, unequal replicates included) and 7.3 (tests), from memory"
 */
public record Interlaboratory(List<Group> groups, double mean) {
    /**
     * What one laboratory found.
     *
     * @param label name of the laboratory
     * @param n how many values, 1 or more
     * @param mean of them
     * @param sumOfSquares about that mean; 0 for one value
     */
    public record Group(String label, int n, double mean, double sumOfSquares) {
        /** {@return the standard deviation s of the values; empty for one value} */
        public OptionalDouble standardDeviation() {
            return n < 2 ? OptionalDouble.empty() : OptionalDouble.of(Math.sqrt(sumOfSquares / (n - 1)));
        }
    }

    /**
     * Precision of one level or of several together.
     *
     * @param repeatability s_r; empty where nobody measured anything twice
     * @param betweenLaboratories s_L, 0 where the means differ by no more than repeatability makes them; empty as s_r is
     * @param reproducibility s_R = √(s_r² + s_L²); empty as s_r is
     */
    public record Precision(
            OptionalDouble repeatability, OptionalDouble betweenLaboratories, OptionalDouble reproducibility) {}

    /**
     * A laboratory a test points at.
     *
     * @param label name of the laboratory
     * @param statistic C or G
     * @param critical5 the value it would exceed by chance in 5 % of cases (a straggler)
     * @param critical1 the same for 1 % (an outlier)
     */
    public record Pointed(String label, double statistic, double critical5, double critical1) {}

    /**
     * Keeps its own copy of the list.
     *
     * @param groups what each found, in the order given
     * @param mean of all values (m̂)
     */
    public Interlaboratory {
        groups = List.copyOf(groups);
    }

    /**
     * One level.
     *
     * @param values by laboratory, two or more of them, each with one or more finite values
     * @return mean, standard deviation and count of each laboratory
     */
    public static Interlaboratory of(Map<String, List<Double>> values) {
        if (values.size() < 2 || values.values().stream().anyMatch(List::isEmpty)) {
            throw new IllegalArgumentException(
                    "groups hold " + values.values().stream().map(List::size).toList()
                            + " values; must be two or more groups of one or more");
        }
        List<Group> groups = new ArrayList<>();
        double first = values.values().iterator().next().get(0);
        double shift = 0;
        int count = 0;
        for (Map.Entry<String, List<Double>> entry : values.entrySet()) {
            double[] y = entry.getValue().stream().mapToDouble(v -> v - first).toArray();
            if (!Arrays.stream(y).allMatch(Double::isFinite)) {
                throw new IllegalArgumentException(entry.getKey() + " holds " + entry.getValue() + "; must be finite");
            }
            double mean = Arrays.stream(y).sum() / y.length;
            groups.add(new Group(
                    entry.getKey(),
                    y.length,
                    first + mean,
                    Arrays.stream(y).map(v -> (v - mean) * (v - mean)).sum()));
            shift += Arrays.stream(y).sum();
            count += y.length;
        }
        return new Interlaboratory(groups, first + shift / count);
    }

    /** {@return s_r, s_L and s_R of this level} */
    public Precision precision() {
        return precision(List.of(this));
    }

    /**
     * s_r, s_L and s_R of several levels that are taken to share them: s_r² = ΣΣ(n − 1)s²/ΣΣ(n − 1), and s_L² =
     * Σ(p − 1)(s_d² − s_r²)/Σ(p − 1)n̄, with s_d² = Σn(ȳ − m̂)²/(p − 1) and n̄ = (Σn − Σn²/Σn)/(p − 1) of each level. For
     * one level these are the formulas of the standard; drawing levels together is our own.
     *
     * @param levels one or more
     * @return in the unit of the values; s_L is 0 where the estimate of its square is negative
     */
    public static Precision precision(List<Interlaboratory> levels) {
        double within = 0;
        int degrees = 0;
        for (Interlaboratory level : levels) {
            within += level.groups.stream().mapToDouble(Group::sumOfSquares).sum();
            degrees += level.degreesOfFreedom();
        }
        if (degrees == 0) {
            return new Precision(OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty());
        }
        double repeatabilityVariance = within / degrees;
        double between = 0;
        double size = 0;
        for (Interlaboratory level : levels) {
            between += level.squaresBetween() - (level.groups.size() - 1) * repeatabilityVariance;
            size += level.size();
        }
        double betweenVariance = Math.max(0, between / size);
        return new Precision(
                OptionalDouble.of(Math.sqrt(repeatabilityVariance)),
                OptionalDouble.of(Math.sqrt(betweenVariance)),
                OptionalDouble.of(Math.sqrt(repeatabilityVariance + betweenVariance)));
    }

    /** Σn(ȳ − m̂)². */
    private double squaresBetween() {
        return groups.stream()
                .mapToDouble(g -> g.n() * (g.mean() - mean) * (g.mean() - mean))
                .sum();
    }

    /** (p − 1)·n̄ = Σn − Σn²/Σn. */
    private double size() {
        double n = groups.stream().mapToInt(Group::n).sum();
        return n - groups.stream().mapToDouble(g -> (double) g.n() * g.n()).sum() / n;
    }

    /**
     * How well the precision of several levels is known.
     *
     * @param repeatability s_r with its interval, from χ² with its degrees of freedom
     * @param repeatabilityDegrees 1 or more
     * @param reproducibility s_R with its interval
     * @param betweenDegrees degrees of freedom of the mean square between laboratories
     */
    public record Known(
            Estimate repeatability, int repeatabilityDegrees, Estimate reproducibility, int betweenDegrees) {}

    /**
     * Intervals for s_r and s_R of {@link #precision(List)}. s_R² is the sum a·MS_L + (1 − a)·s_r² of the mean squares between
     * and within laboratories. Each bound lies off this sum by the root of the summed squares of how far the bound of each part
     * lies off that part. Where s_L is 0, the sum is less than s_R², and the upper bound is s_R² at least.
     *
     * @param levels one or more
     * @param betweenDegrees degrees of freedom of MS_L, 1 or more: those of a single level where what a laboratory does to one
     *     level it does to all of them, so that more levels tell no more of it
     * @param level probability of the intervals, in (0, 1)
     * @return empty where nobody measured anything twice
     * @see "F. A. Graybill and C.-M. Wang, Journal of the American Statistical Association 75 (1980) 869–873, from memory. The
     *     degrees of freedom after Satterthwaite were tried and held too seldom with three laboratories"
     */
    public static Optional<Known> known(List<Interlaboratory> levels, int betweenDegrees, double level) {
        Precision precision = precision(levels);
        if (precision.repeatability().isEmpty()) {
            return Optional.empty();
        }
        double within = Math.pow(precision.repeatability().getAsDouble(), 2);
        double total = Math.pow(precision.reproducibility().orElseThrow(), 2);
        int nu = 0;
        double degrees = 0;
        double size = 0;
        double between = 0;
        for (Interlaboratory l : levels) {
            between += l.squaresBetween();
            nu += l.degreesOfFreedom();
            degrees += l.groups.size() - 1;
            size += l.size();
        }
        double[] parts = {between / size, (1 - degrees / size) * within};
        return Optional.of(new Known(
                deviation(within, new double[] {within}, new int[] {nu}, level),
                nu,
                deviation(total, parts, new int[] {betweenDegrees, nu}, level),
                betweenDegrees));
    }

    /** Root of a square that is a sum of mean squares with their degrees of freedom. */
    private static Estimate deviation(double square, double[] squares, int[] nu, double level) {
        double sum = 0;
        double variance = 0;
        double down = 0;
        double up = 0;
        for (int i = 0; i < squares.length; i++) {
            sum += squares[i];
            variance += 2 * squares[i] * squares[i] / nu[i];
            down += Math.pow(squares[i] * (1 - nu[i] / Quantiles.chiSquared((1 + level) / 2, nu[i])), 2);
            up += Math.pow(squares[i] * (nu[i] / Quantiles.chiSquared((1 - level) / 2, nu[i]) - 1), 2);
        }
        double s = Math.sqrt(square);
        return new Estimate(
                s,
                s > 0 ? Math.sqrt(variance) / (2 * s) : 0,
                Math.sqrt(Math.max(0, sum - Math.sqrt(down))),
                Math.sqrt(Math.max(square, sum + Math.sqrt(up))),
                level);
    }

    /** {@return standard deviation of the laboratories' means about their plain mean} */
    public double standardDeviationOfMeans() {
        double plain = plainMean();
        return Math.sqrt(groups.stream()
                        .mapToDouble(g -> (g.mean() - plain) * (g.mean() - plain))
                        .sum()
                / (groups.size() - 1));
    }

    private double plainMean() {
        double first = groups.get(0).mean();
        return first + groups.stream().mapToDouble(g -> g.mean() - first).sum() / groups.size();
    }

    /** Values beyond the first of each laboratory. */
    int degreesOfFreedom() {
        return groups.stream().mapToInt(g -> g.n() - 1).sum();
    }

    /**
     * Mandel's h of the i-th laboratory: how far its mean lies from the plain mean of means, in their standard deviations.
     *
     * @param i place of the laboratory, from 0
     * @return empty for two laboratories, of which it says nothing, and where all means are the same
     */
    public OptionalDouble h(int i) {
        if (groups.size() < 3) {
            return OptionalDouble.empty();
        }
        double s = standardDeviationOfMeans();
        return !(s > 0)
                ? OptionalDouble.empty()
                : OptionalDouble.of((groups.get(i).mean() - plainMean()) / s);
    }

    /**
     * Mandel's k of the i-th laboratory: its standard deviation over the pooled one.
     *
     * @param i place of the laboratory, from 0
     * @return empty for two laboratories, for which there are no tables (one whose rounded values agree makes the other
     *     stand out), where it measured once, where no other measured twice, and where nothing scatters
     */
    public OptionalDouble k(int i) {
        if (groups.size() < 3) {
            return OptionalDouble.empty();
        }
        OptionalDouble pooled = precision().repeatability();
        OptionalDouble own = groups.get(i).standardDeviation();
        return own.isEmpty() || degreesOfFreedom() == groups.get(i).n() - 1 || !(pooled.orElse(0) > 0)
                ? OptionalDouble.empty()
                : OptionalDouble.of(own.getAsDouble() / pooled.getAsDouble());
    }

    /**
     * Mandel's k of one laboratory over several levels.
     *
     * @param k its pooled standard deviation over that of all
     * @param critical the k it would exceed by chance with the probability asked for
     */
    public record Scatter(double k, double critical) {
        /** {@return whether k lies above its critical value} */
        public boolean standsOut() {
            return k > critical;
        }
    }

    /**
     * {@return k of each laboratory over all levels together, by label; without those of which it says nothing}
     *
     * @param levels one or more, of the same laboratories or some of them
     * @param alpha level of significance, in (0, 1)
     */
    public static SortedMap<String, Scatter> scatter(List<Interlaboratory> levels, double alpha) {
        SortedMap<String, Scatter> scatter = new TreeMap<>();
        levels.stream()
                .flatMap(level -> level.groups().stream())
                .map(Group::label)
                .distinct()
                .forEach(label -> scatter(levels, label, alpha).ifPresent(k -> scatter.put(label, k)));
        return scatter;
    }

    /**
     * k of a laboratory over all levels together, which are taken to share a repeatability.
     *
     * @return empty where it or all others measured nothing twice, and where nothing scatters
     */
    static Optional<Scatter> scatter(List<Interlaboratory> levels, String label, double alpha) {
        double own = 0;
        double all = 0;
        int nu = 0;
        int degrees = 0;
        for (Group group : levels.stream().flatMap(l -> l.groups.stream()).toList()) {
            boolean mine = group.label().equals(label);
            own += mine ? group.sumOfSquares() : 0;
            nu += mine ? group.n() - 1 : 0;
            all += group.sumOfSquares();
            degrees += group.n() - 1;
        }
        return nu < 1 || degrees <= nu || !(all > 0)
                ? Optional.empty()
                : Optional.of(
                        new Scatter(Math.sqrt(own / nu / (all / degrees)), OutlierTests.mandelK(nu, degrees, alpha)));
    }

    /**
     * {@return whether the i-th laboratory's mean stands out by h at a level of significance; false where h says nothing}
     *
     * @param i place of the laboratory, from 0
     * @param alpha level of significance, in (0, 1)
     */
    public boolean standsOutByH(int i, double alpha) {
        OptionalDouble h = h(i);
        return h.isPresent() && Math.abs(h.getAsDouble()) > OutlierTests.mandelH(groups.size(), alpha);
    }

    /**
     * {@return whether the i-th laboratory's scatter stands out by k at a level of significance; false where k says nothing}
     *
     * @param i place of the laboratory, from 0
     * @param alpha level of significance, in (0, 1)
     */
    public boolean standsOutByK(int i, double alpha) {
        OptionalDouble k = k(i);
        return k.isPresent()
                && k.getAsDouble() > OutlierTests.mandelK(groups.get(i).n() - 1, degreesOfFreedom(), alpha);
    }

    /**
     * Cochran's test of the largest variance.
     *
     * @return empty where the laboratories did not all make the same number of replicates, two or more, or nothing scatters
     */
    public Optional<Pointed> cochran() {
        int n = groups.get(0).n();
        double sum = groups.stream().mapToDouble(Group::sumOfSquares).sum();
        if (n < 2 || groups.stream().anyMatch(g -> g.n() != n) || !(sum > 0)) {
            return Optional.empty();
        }
        Group widest = groups.get(0);
        for (Group group : groups) {
            widest = group.sumOfSquares() > widest.sumOfSquares() ? group : widest;
        }
        int p = groups.size();
        return Optional.of(new Pointed(
                widest.label(),
                widest.sumOfSquares() / sum,
                OutlierTests.cochran(p, n, 0.05),
                OutlierTests.cochran(p, n, 0.01)));
    }

    /**
     * Grubbs' test, two-sided, of the mean farthest from the others.
     *
     * @return empty for fewer than three laboratories, or where all means are the same
     */
    public Optional<Pointed> grubbs() {
        double s = standardDeviationOfMeans();
        int p = groups.size();
        if (p < 3 || !(s > 0)) {
            return Optional.empty();
        }
        double plain = plainMean();
        Group farthest = groups.get(0);
        for (Group group : groups) {
            farthest = Math.abs(group.mean() - plain) > Math.abs(farthest.mean() - plain) ? group : farthest;
        }
        return Optional.of(new Pointed(
                farthest.label(),
                Math.abs(farthest.mean() - plain) / s,
                Grubbs.critical(p, 0.05 / 2),
                Grubbs.critical(p, 0.01 / 2)));
    }
}
