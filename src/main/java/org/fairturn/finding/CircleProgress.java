package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.uncertainty.Estimate;

/**
 * How far a trial is, for whoever stands beside one of its circles with the tape.
 *
 * @param circle as measured so far
 * @param diameter the circle's own, by its readings alone; empty where it has none
 * @param again what speaks for measuring again, a sentence or more each
 * @param size the circle's diameter, and that of all circles driven like it, a sentence each
 * @param outlook whether more circles of this cell would help, the most important sentence first
 */
public record CircleProgress(
        CircleResult circle, Optional<Diameter> diameter, List<String> again, List<String> size, List<String> outlook) {
    /**
     * Keeps its own copy of each list.
     *
     * @param circle as measured so far
     * @param diameter the circle's own, by its readings alone; empty where it has none
     * @param again what speaks for measuring again, a sentence or more each
     * @param size the circle's diameter, and that of all circles driven like it, a sentence each
     * @param outlook whether more circles of this cell would help, the most important sentence first
     */
    public CircleProgress {
        again = List.copyOf(again);
        size = List.copyOf(size);
        outlook = List.copyOf(outlook);
    }

    /**
     * A diameter with its interval at the trial's confidence (m).
     *
     * @param estimate best estimate (m)
     * @param low lower end (m), 0 or more
     * @param high upper end (m)
     */
    public record Diameter(double estimate, double low, double high) {}

    /**
     * {@return what an analysis says of a circle; empty where it does not hold that circle}
     *
     * @param analysis of the trial as it is now
     * @param id of the circle
     */
    public static Optional<CircleProgress> of(Analysis analysis, String id) {
        return analysis.circles().stream()
                .filter(c -> c.circle().id().equals(id))
                .findFirst()
                .map(circle -> of(analysis, circle));
    }

    private static CircleProgress of(Analysis analysis, CircleResult circle) {
        Wording wording = new Wording(analysis.trial().conditions().lengthUnit());
        Cell cell = circle.circle().cell();
        Optional<MachineEstimate> machine = analysis.machines().stream()
                .filter(m -> m.machine().id().equals(cell.machine()))
                .findFirst();
        double level = analysis.trial().conditions().confidence();
        Optional<Estimate> diameter = machine.flatMap(m -> circle.summary()
                .map(s -> m.posterior()
                        .circle(s.mean(), s.weight(), circle.shared().variance())
                        .estimate(level)));
        List<String> size = new ArrayList<>();
        diameter.ifPresent(d -> size.add("This circle: " + sized(d, wording) + "."));
        analysis.cells().stream()
                .filter(e -> e.cell().equals(cell))
                .findFirst()
                .ifPresent(e -> size.add(cell + ", " + e.circles().size()
                        + (e.circles().size() == 1 ? " circle: " : " circles together: ")
                        + sized(e.diameter(), wording)
                        + (e.restsOnAssumption() ? "; rests on the assumed repeatability." : ".")));
        return new CircleProgress(
                circle,
                diameter.map(d -> new Diameter(d.value(), Math.max(0, d.low()), d.high())),
                again(analysis, circle, wording),
                size,
                outlook(analysis, cell));
    }

    private static String sized(Estimate d, Wording wording) {
        return wording.amount(d) + ", " + wording.sizeRange(d);
    }

    /** The warnings about this circle and its readings; and whether its own tapes all lay the same way. */
    private static List<String> again(Analysis analysis, CircleResult circle, Wording wording) {
        List<String> places = new ArrayList<>(
                circle.observations().stream().map(Observation::where).toList());
        places.add("circle " + circle.circle().id());
        places.add(circle.circle().cell().toString());
        List<String> again = new ArrayList<>(analysis.warnings().stream()
                .filter(w -> places.contains(w.where()) && !w.code().equals("singleCircle"))
                .map(Warning::message)
                .toList());
        if (circle.counts()) {
            again.addAll(DataChecks.units(analysis.trial(), analysis.machines())
                    .ofCircle(circle.circle().id()));
            Map<Cell, List<CircleResult>> alone = Map.of(circle.circle().cell(), List.of(circle));
            new Trends(circle.circle().cell().machine(), alone, alone, wording)
                    .warnings().stream()
                            .filter(w -> w.code().equals("bearingsAlike"))
                            .map(Warning::message)
                            .forEach(again::add);
        }
        return again;
    }

    private static List<String> outlook(Analysis analysis, Cell cell) {
        List<Finding> asked = analysis.findings().stream()
                .filter(f -> analysis.leads(f) && hangs(analysis, f, cell))
                .toList();
        List<Finding> open = with(asked, f -> outlook(f).isPresent());
        List<Finding> helped = open.stream()
                .filter(f -> outlook(f).orElseThrow().furtherCircles().containsKey(cell))
                .sorted(Comparator.comparingInt(
                                (Finding f) -> outlook(f).orElseThrow().total())
                        .thenComparing(CircleProgress::name))
                .toList();
        List<Finding> impossible =
                with(asked, f -> !f.verdict().decided() && outlook(f).isEmpty());
        List<String> said = new ArrayList<>();
        if (!helped.isEmpty()) {
            int more = outlook(helped.get(0)).orElseThrow().furtherCircles().get(cell);
            boolean alone =
                    outlook(helped.get(0)).orElseThrow().furtherCircles().size() == 1;
            said.add("Not enough yet: " + (more == 1 ? "one more circle" : more + " more circles") + " like this one "
                    + (alone ? "" : "and some others ") + "would probably settle a question.");
        } else if (!open.isEmpty()) {
            said.add("More circles like this one would probably settle nothing that is still open.");
        } else if (!impossible.isEmpty()) {
            said.add("Something is missing before the questions about this circle can be answered.");
        } else if (!asked.isEmpty()) {
            said.add("Enough now: every question that hangs on circles like this one has its answer.");
        }
        helped.forEach(f -> said.add(ahead(f)));
        open.stream().filter(f -> !helped.contains(f)).forEach(f -> said.add(ahead(f)));
        impossible.forEach(f -> said.add(name(f) + ": missing: "
                + f.verdict().<String>fold(w -> "", b -> "", c -> "", n -> String.join("; ", n.missing())) + "."));
        return said;
    }

    private static List<Finding> with(List<Finding> findings, Predicate<Finding> which) {
        return findings.stream().filter(which).toList();
    }

    private static Optional<Outlook> outlook(Finding finding) {
        return finding.verdict()
                .fold(
                        w -> Optional.empty(),
                        b -> Optional.empty(),
                        c -> Optional.of(c.outlook()),
                        n -> Optional.empty());
    }

    private static String ahead(Finding finding) {
        Outlook outlook = outlook(finding).orElseThrow();
        boolean fixed = outlook.furtherCircles().isEmpty() && outlook.obstacle() == Outlook.Obstacle.GEOMETRY;
        return name(finding) + ": cannot tell yet. "
                + (fixed && finding.question() == Question.CLAIM
                        ? ClaimWords.HANGS_ON_THE_CLAIM
                        : fixed && finding.question() == Question.COMPLAINT
                                ? Wording.hardly(outlook) + ComplaintWords.HANGS_ON_THE_REFERENCE
                                : Wording.outlookOf(outlook));
    }

    /** Such as {@code Left against right (Alder 22, 2WD)}. */
    private static String name(Finding finding) {
        return finding.question().title() + " ("
                + finding.subject().entrySet().stream()
                        .filter(part -> !part.getValue().equals("all"))
                        .map(part -> part.getKey().equals("brakes") ? "with brakes" : part.getValue())
                        .collect(Collectors.joining(", "))
                + ")";
    }

    /** Whether a question is about circles of this cell, among others perhaps. */
    private static boolean hangs(Analysis analysis, Finding finding, Cell cell) {
        Map<String, String> subject = finding.subject();
        boolean machine =
                cell.machine().equals(subject.get("machine")) || cell.machine().equals(subject.get("other"));
        return machine
                && fits(subject.get("turn"), cell.turn().word())
                && fits(subject.get("drive"), cell.drive().word())
                && fitsBrakes(analysis, finding, cell);
    }

    /** With brakes it is another circle: only few questions are about both. */
    private static boolean fitsBrakes(Analysis analysis, Finding finding, Cell cell) {
        Map<String, String> subject = finding.subject();
        boolean used = cell.brakes() == Brakes.USED;
        if (subject.containsKey("stop")) {
            return true;
        }
        if (subject.containsKey("brakes")) {
            return used;
        }
        if (finding.question() == Question.COMPLAINT && !subject.containsKey("turn")) {
            return analysis.complaints().stream()
                    .filter(c -> c.subject().equals(subject))
                    .findFirst()
                    .map(c -> c.compared().stream().anyMatch(k -> k.cell().equals(cell)))
                    .orElse(true);
        }
        // what a claim means where it could not be held against any circle
        if (finding.question() == Question.CLAIM && finding.estimate().isEmpty()) {
            return analysis.trial().claims().stream()
                    .filter(c -> c.id().equals(subject.get("claim")))
                    .allMatch(c -> c.brakes().map(cell.brakes()::equals).orElse(true));
        }
        return !used;
    }

    /** What a question leaves open, or asks of several, fits each. */
    private static boolean fits(String asked, String here) {
        return asked == null
                || asked.equals(here)
                || !List.of("left", "right", "2WD", "4WD").contains(asked);
    }
}
