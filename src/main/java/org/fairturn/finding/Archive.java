package org.fairturn.finding;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.stream.Stream;
import org.fairturn.trial.Assumption;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.LearntScatter;
import org.fairturn.trial.Trial;
import org.fairturn.uncertainty.AcrossTrials;
import org.fairturn.uncertainty.HalfT;
import org.fairturn.uncertainty.PastScatter;
import org.fairturn.units.Length;

/**
 * What past trials teach of the repeatability, all together and by drive, by surface, by both and by who measured.
 *
 * <p>How circles scatter hangs on ground, grass and drive; how readings scatter hangs on who lays the tape. So a new trial
 * takes the first from the trials on its surface in its drive, else from those on its surface, else from those in its drive;
 * the second from those of its measurer, else from those on its surface. A group needs three trials; else all trials
 * together are taken, however few. A trial that is in the archive itself learns from the others alone.
 *
 * <p>Where several drives count together, as in the analysis of a machine, their sums of squares are added.
 */
public final class Archive {
    /** Fewer trials than this make no group of their own. */
    public static final int ENOUGH = 3;
    /** Level of intervals. */
    public static final double LEVEL = 0.95;

    private static final AcrossTrials ACROSS = new AcrossTrials(
            new HalfT(Conditions.DEFAULT_CIRCLE_REPEATABILITY.metres()),
            new HalfT(Conditions.DEFAULT_READING_REPEATABILITY.metres()),
            MachineEstimate.RESOLUTION);

    private final List<PastTrial> rows;
    private final int copies;
    private final Map<Kind, Members> groups = new TreeMap<>();

    /**
     * What trials have in common; what is empty is left open. In the order of a table: all, by drive, by surface, by both, by
     * who measured.
     */
    private record Kind(Optional<Drive> drive, String surface, String measurer) implements Comparable<Kind> {
        static final Kind ALL = new Kind(Optional.empty(), "", "");

        static Kind of(Drive drive) {
            return new Kind(Optional.of(drive), "", "");
        }

        static Kind on(String surface) {
            return new Kind(Optional.empty(), surface, "");
        }

        static Kind of(Drive drive, String surface) {
            return new Kind(Optional.of(drive), surface, "");
        }

        static Kind by(String measurer) {
            return new Kind(Optional.empty(), "", measurer);
        }

        /** Such as {@code on short turf in 2WD}; empty for all. */
        String words() {
            return ((surface.isEmpty() ? "" : " on " + surface)
                            + drive.map(d -> " in " + d.word()).orElse("")
                            + (measurer.isEmpty() ? "" : " measured by " + measurer))
                    .strip();
        }

        private String place() {
            int rank =
                    !measurer.isEmpty() ? 4 : surface.isEmpty() ? (drive.isEmpty() ? 0 : 1) : drive.isEmpty() ? 2 : 3;
            return rank + "|" + surface + "|" + drive.map(Drive::word).orElse("") + "|" + measurer;
        }

        @Override
        public int compareTo(Kind other) {
            return place().compareTo(other.place());
        }
    }

    /** The trials of a kind, added up. */
    private static final class Members {
        private AcrossTrials.Group sum = ACROSS.new Group();
        private final Set<String> trials = new TreeSet<>();
        private final Set<String> showCircles = new HashSet<>();
        private final Set<String> showReadings = new HashSet<>();
        private int circles;

        void add(String trial, int more, PastScatter scatter, AcrossTrials.Evidence evidence) {
            trials.add(trial);
            circles += more;
            sum.add(evidence);
            if (scatter.circleDegrees() > 0) {
                showCircles.add(trial);
            }
            if (scatter.readingDegrees() > 0) {
                showReadings.add(trial);
            }
        }

        Members without(Optional<Members> own) {
            Members rest = new Members();
            rest.trials.addAll(trials);
            rest.showCircles.addAll(showCircles);
            rest.showReadings.addAll(showReadings);
            rest.sum = sum;
            own.ifPresent(o -> {
                rest.trials.removeAll(o.trials);
                rest.showCircles.removeAll(o.showCircles);
                rest.showReadings.removeAll(o.showReadings);
                rest.sum = sum.without(o.sum);
            });
            return rest;
        }

        Optional<AcrossTrials.Learnt> circle() {
            return showCircles.isEmpty() ? Optional.empty() : Optional.of(sum.circle(showCircles.size(), LEVEL));
        }

        Optional<AcrossTrials.Learnt> reading() {
            return showReadings.isEmpty() ? Optional.empty() : Optional.of(sum.reading(showReadings.size(), LEVEL));
        }
    }

    /**
     * A group as it is shown.
     *
     * @param name such as {@code on short turf in 2WD}; empty for all trials together
     * @param trials how many
     * @param circles of them that counted
     * @param circle what they teach of the circle-to-circle standard deviation; empty where no trial of it shows any, and where
     *     fewer than three do, all trials together excepted
     * @param reading the same of the reading-to-reading one
     */
    public record Taught(
            String name,
            int trials,
            int circles,
            Optional<AcrossTrials.Learnt> circle,
            Optional<AcrossTrials.Learnt> reading) {}

    /**
     * An archive.
     *
     * @param rows in any order; the same archive comes of any
     */
    public Archive(List<PastTrial> rows) {
        List<PastTrial> once = new ArrayList<>();
        Map<List<Object>, List<PastTrial>> alike = new LinkedHashMap<>();
        int twice = 0;
        for (PastTrial row : rows.stream().sorted(PastTrial.ORDER).toList()) {
            List<PastTrial> before = alike.computeIfAbsent(
                    List.of(
                            row.date(),
                            row.machine(),
                            row.drive(),
                            row.scatter().circleDegrees()),
                    k -> new ArrayList<>());
            if (before.stream().anyMatch(b -> same(b, row))) {
                twice++;
            } else {
                before.add(row);
                once.add(row);
            }
        }
        this.rows = List.copyOf(once);
        copies = twice;
        gather(this.rows, groups);
    }

    /** {@return how many rows told of circles that another row told of already; they count once} */
    public int copies() {
        return copies;
    }

    /** {@return what the archive holds, by date} */
    public List<PastTrial> rows() {
        return rows;
    }

    /** {@return how many trials} */
    public int trials() {
        return (int) rows.stream().map(PastTrial::trial).distinct().count();
    }

    private static void gather(List<PastTrial> rows, Map<Kind, Members> into) {
        Map<String, List<PastTrial>> machines = new LinkedHashMap<>();
        for (PastTrial row : rows) {
            machines.computeIfAbsent(row.trial() + "\n" + row.machine(), k -> new ArrayList<>())
                    .add(row);
        }
        for (List<PastTrial> machine : machines.values()) {
            gatherMachine(machine, into);
        }
    }

    private static void gatherMachine(List<PastTrial> drives, Map<Kind, Members> into) {
        Map<PastScatter, AcrossTrials.Evidence> known = new LinkedHashMap<>();
        PastTrial first = drives.get(0);
        String surface = plain(first.surface());
        for (PastTrial row : drives) {
            add(Kind.of(row.drive()), row.trial(), row.circles(), row.scatter(), known, into);
            if (!surface.isEmpty()) {
                add(Kind.of(row.drive(), surface), row.trial(), row.circles(), row.scatter(), known, into);
            }
        }
        PastScatter together = drives.stream()
                .map(PastTrial::scatter)
                .reduce(PastScatter::plus)
                .orElseThrow();
        int circles = drives.stream().mapToInt(PastTrial::circles).sum();
        add(Kind.ALL, first.trial(), circles, together, known, into);
        if (!surface.isEmpty()) {
            add(Kind.on(surface), first.trial(), circles, together, known, into);
        }
        Set<String> measurers = new TreeSet<>();
        drives.forEach(row -> measurers.add(row.measurer()));
        if (measurers.size() == 1 && !first.measurer().isEmpty()) {
            add(Kind.by(first.measurer()), first.trial(), circles, together, known, into);
        }
    }

    private static void add(
            Kind kind,
            String trial,
            int circles,
            PastScatter scatter,
            Map<PastScatter, AcrossTrials.Evidence> known,
            Map<Kind, Members> into) {
        into.computeIfAbsent(kind, k -> new Members())
                .add(trial, circles, scatter, known.computeIfAbsent(scatter, ACROSS::evidence));
    }

    /** People write a surface in capitals or without. */
    private static String plain(String words) {
        return words.strip().replaceAll("\\s+", " ").toLowerCase(Locale.ROOT);
    }

    /** {@return all trials together first, then each group that has three trials or more} */
    public List<Taught> groups() {
        return groups.entrySet().stream()
                .filter(g -> g.getKey().equals(Kind.ALL) || g.getValue().trials.size() >= ENOUGH)
                .map(g -> {
                    boolean all = g.getKey().equals(Kind.ALL);
                    Members m = g.getValue();
                    return new Taught(
                            g.getKey().words(),
                            m.trials.size(),
                            m.circles,
                            m.circle().filter(l -> all || l.trials() >= ENOUGH),
                            m.reading().filter(l -> all || l.trials() >= ENOUGH));
                })
                .toList();
    }

    /** {@return the groups that are too small to be taken by themselves} */
    public List<String> tooSmall() {
        return groups.entrySet().stream()
                .filter(g -> !g.getKey().equals(Kind.ALL) && g.getValue().trials.size() < ENOUGH)
                .map(g -> g.getKey().words() + " (" + g.getValue().trials.size() + ")")
                .toList();
    }

    /**
     * {@return the trial with what this archive teaches as its assumed repeatability, as far as trial.csv does not state
     * one}
     *
     * @param trial that the archive may hold too; it does not teach itself
     */
    public Trial taughtTo(Trial trial) {
        Set<Drive> drives = new HashSet<>();
        Set<String> measurers = new TreeSet<>();
        for (Circle circle : trial.circles()) {
            if (circle.use()) {
                drives.add(circle.cell().drive());
                circle.readings().forEach(r -> measurers.add(r.measurer()));
            }
        }
        List<PastTrial> own = own(trial);
        return trial.withConditions(conditions(
                trial.conditions(),
                drives,
                measurers.size() == 1 ? measurers.iterator().next() : "",
                own));
    }

    /**
     * {@return the conditions of a trial that is to come, in drives it will be driven in}
     *
     * @param conditions as they are agreed on
     * @param drives one or two
     */
    public Conditions taughtTo(Conditions conditions, Set<Drive> drives) {
        return conditions(conditions, drives, "", List.of());
    }

    /** Rows of this very trial: its name and day, or its very figures under another name. */
    private List<PastTrial> own(Trial trial) {
        List<PastTrial> now = PastTrial.of(trial.folder(), trial);
        Set<String> itself = new HashSet<>();
        rows.stream()
                .filter(row -> row.date().equals(trial.conditions().date())
                        && now.stream()
                                .anyMatch(n -> n.machine().equals(row.machine())
                                        && (name(row.folder()).equals(trial.folder()) || same(n, row))))
                .forEach(row -> itself.add(row.trial()));
        return itself.isEmpty()
                ? List.of()
                : rows.stream().filter(row -> itself.contains(row.trial())).toList();
    }

    /** Whether two rows tell of the same circles, whatever their folders are called. */
    private static boolean same(PastTrial a, PastTrial b) {
        return a.date().equals(b.date())
                && a.machine().equals(b.machine())
                && a.drive() == b.drive()
                && alike(a.scatter(), b.scatter());
    }

    private static String name(String path) {
        return path.substring(path.lastIndexOf('/') + 1);
    }

    /** As far as a file keeps the digits. */
    private static boolean alike(PastScatter a, PastScatter b) {
        return a.circleDegrees() == b.circleDegrees()
                && a.readingDegrees() == b.readingDegrees()
                && a.circleDegrees() + a.readingDegrees() > 0
                && close(a.circleSquares(), b.circleSquares())
                && close(a.readingSquares(), b.readingSquares());
    }

    private static boolean close(double a, double b) {
        return Math.abs(a - b) <= 1e-9 * Math.max(a, b);
    }

    private Conditions conditions(Conditions conditions, Set<Drive> drives, String measurer, List<PastTrial> own) {
        Map<Kind, Members> ownGroups = new TreeMap<>();
        gather(own, ownGroups);
        Function<Kind, Members> others =
                kind -> groups.getOrDefault(kind, new Members()).without(Optional.ofNullable(ownGroups.get(kind)));
        Optional<Drive> drive =
                drives.size() == 1 ? Optional.of(drives.iterator().next()) : Optional.empty();
        String surface = plain(conditions.surface());
        List<Kind> forCircles = Stream.of(
                        surface.isEmpty() ? Optional.<Kind>empty() : drive.map(d -> Kind.of(d, surface)),
                        surface.isEmpty() ? Optional.<Kind>empty() : Optional.of(Kind.on(surface)),
                        drive.map(Kind::of))
                .flatMap(Optional::stream)
                .toList();
        List<Kind> forReadings = Stream.of(
                        measurer.isEmpty() ? Optional.<Kind>empty() : Optional.of(Kind.by(measurer)),
                        surface.isEmpty() ? Optional.<Kind>empty() : Optional.of(Kind.on(surface)))
                .flatMap(Optional::stream)
                .toList();
        Wording wording = new Wording(conditions.lengthUnit());
        Assumption before = conditions.assumption();
        Choice circle = choose(
                "circle",
                others,
                forCircles,
                true,
                before.circleStated(),
                conditions.assumedCircleRepeatability(),
                wording);
        Choice reading = choose(
                "reading",
                others,
                forReadings,
                false,
                before.readingStated(),
                conditions.assumedReadingRepeatability(),
                wording);
        List<String> sentences = new ArrayList<>(List.of(circle.sentence(), reading.sentence()));
        if (!own.isEmpty()) {
            sentences.add("This trial is in the archive itself and was left out of it.");
        }
        return conditions.withAssumption(new Assumption(
                before.circleStated(), before.readingStated(), circle.learnt(), reading.learnt(), sentences));
    }

    private record Choice(Optional<LearntScatter> learnt, String sentence) {}

    private static Choice choose(
            String what,
            Function<Kind, Members> from,
            List<Kind> wanted,
            boolean circles,
            boolean stated,
            Length assumed,
            Wording wording) {
        String head = "Assumed " + what + " repeatability: ";
        if (stated) {
            return new Choice(
                    Optional.empty(),
                    head + wording.amount(assumed.metres())
                            + ", as trial.csv states it; that comes before what the archive teaches.");
        }
        Optional<Kind> kind =
                wanted.stream().filter(k -> count(from, k, circles) >= ENOUGH).findFirst();
        Members members = from.apply(kind.orElse(Kind.ALL));
        Optional<AcrossTrials.Learnt> learnt = circles ? members.circle() : members.reading();
        if (learnt.isEmpty()) {
            return new Choice(
                    Optional.empty(),
                    head + wording.amount(assumed.metres()) + ", the usual one; the archive shows nothing of it.");
        }
        AcrossTrials.Learnt l = learnt.get();
        double below95 = l.next().quantile(0.95);
        String trials = l.trials() == 1 ? "1 past trial" : l.trials() + " past trials";
        return new Choice(
                Optional.of(new LearntScatter(
                        new Length(l.next().median()),
                        l.next().logSpread(),
                        l.next().usualShare(),
                        l.trials(),
                        new Length(below95))),
                head + "learnt from " + trials
                        + kind.map(k -> " " + k.words()).orElse("") + ", typically "
                        + wording.amount(l.next().quantile(0.5)) + ", in 95 % of trials below "
                        + wording.amount(below95) + "."
                        + (kind.isPresent() || wanted.isEmpty()
                                ? ""
                                : " Of those " + wanted.get(0).words() + " there "
                                        + few(count(from, wanted.get(0), circles))
                                        + ", so all were taken together."));
    }

    private static String few(int trials) {
        return trials == 0 ? "is none" : trials == 1 ? "is only 1" : "are only " + trials;
    }

    private static int count(Function<Kind, Members> from, Kind kind, boolean circles) {
        Members members = from.apply(kind);
        return circles ? members.showCircles.size() : members.showReadings.size();
    }

    /**
     * {@return how circles scattered, trial by trial: the standard deviation of circle means, what readings add to it
     * included}
     */
    public Drift circleDrift() {
        return Drift.of(rows, PastScatter::circleDegrees, PastScatter::circleSquares);
    }

    /** {@return how readings scattered about their circle, trial by trial} */
    public Drift readingDrift() {
        return Drift.of(rows, PastScatter::readingDegrees, PastScatter::readingSquares);
    }
}
