package org.fairturn.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import org.fairturn.chart.CellColumn;
import org.fairturn.chart.Charts;
import org.fairturn.chart.CirclePoint;
import org.fairturn.chart.ClaimAxis;
import org.fairturn.chart.Decomposition;
import org.fairturn.chart.DifferenceAxis;
import org.fairturn.chart.Drawing;
import org.fairturn.chart.PlanView;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Asymmetry;
import org.fairturn.finding.CellEstimate;
import org.fairturn.finding.Finding;
import org.fairturn.finding.Part;
import org.fairturn.finding.Question;
import org.fairturn.finding.SideBySide;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.Quantiles;
import org.fairturn.units.LengthUnit;

/** Puts what was found into the drawings. */
final class Drawings {
    private Drawings() {}

    static List<Figure> of(Analysis analysis) {
        LengthUnit unit = analysis.trial().conditions().lengthUnit();
        List<CellColumn> columns =
                analysis.cells().stream().map(Drawings::column).toList();
        List<Decomposition> taken = analysis.asymmetries().stream()
                .map(a -> decomposition(a, analysis.trial().conditions().confidence()))
                .flatMap(Optional::stream)
                .toList();
        double margin = analysis.trial().conditions().practicalMargin().metres();
        List<Supplier<Optional<Figure>>> drawn = new ArrayList<>();
        drawn.add(() -> Charts.diameters(columns, unit)
                .map(d -> new Figure(
                        "Every circle, and what it says about its cell",
                        "Each mark is one circle; the bar is the interval in which the cell's true uncut diameter lies.",
                        d)));
        drawn.add(() -> Charts.leftRight(taken, margin, unit)
                .map(d -> new Figure(
                        "Left against right, taken apart",
                        "How much larger the right circle is, what the deck and the steering explain of that, and what remains; the shaded"
                                + " band is the practical margin.",
                        d)));
        drawn.add(() -> ClaimAxis.draw(claims(analysis), unit)
                .map(d -> new Figure(
                        "Claims against what was measured",
                        "All as uncut diameters. Where a claim's bar reaches over the dotted line of a measured circle, the two do"
                                + " not contradict each other.",
                        d)));
        drawn.add(() -> DifferenceAxis.draw(
                        new DifferenceAxis.Words("side-by-side", "Side by side", "how much larger the circle is"),
                        pairs(analysis),
                        margin,
                        unit)
                .map(d -> new Figure(
                        "Side by side, against the practical margin",
                        "How much larger the second machine's circle is in each turn and drive, and on the whole. A bar within"
                                + " the shaded band is no difference that matters, a bar wholly outside is one.",
                        d)));
        for (Machine machine : analysis.trial().machines()) {
            drawn.add(() -> planView(analysis, machine, unit)
                    .map(d -> new Figure(
                            "Why one circle is smaller: " + machine.id(),
                            "Seen from above. Blades, rear axle and circles are to scale, the outline of the machine is a sketch. The nearest"
                                    + " blade tip draws the edge of the uncut disc.",
                            d)));
        }
        drawn.add(() -> Charts.runOrder(columns, unit)
                .map(d -> new Figure(
                        "Circles in the order they were driven",
                        "Ground, tyres and drivers change in the course of a day; a cell's circles should not climb or fall"
                                + " along it.",
                        d)));
        // side by side, because drawing letters is what a report takes longest over; the order stays
        return drawn.parallelStream()
                .map(Supplier::get)
                .flatMap(Optional::stream)
                .toList();
    }

    /** A panel for each pair of machines: on the whole first, where there is such a figure, then cell by cell. */
    private static List<DifferenceAxis.Panel> pairs(Analysis analysis) {
        Map<String, List<DifferenceAxis.Row>> rows = new LinkedHashMap<>();
        for (Finding finding : analysis.findings()) {
            Map<String, String> subject = finding.subject();
            if (finding.question() == Question.SIDE_BY_SIDE && "all".equals(subject.get("turn"))) {
                finding.estimate()
                        .ifPresent(e -> rows.computeIfAbsent(
                                        less(subject.get("other"), subject.get("machine")), k -> new ArrayList<>())
                                .add(row("on the whole", e, true)));
            }
        }
        analysis.sideBySide()
                .map(SideBySide::compared)
                .orElse(List.of())
                .forEach(c -> rows.computeIfAbsent(
                                less(c.other().machine(), c.machine().machine()), k -> new ArrayList<>())
                        .add(row(name(c.machine()), c.difference(), false)));
        return rows.entrySet().stream()
                .map(e -> new DifferenceAxis.Panel(e.getKey(), e.getValue()))
                .toList();
    }

    private static String less(String other, String machine) {
        return shortened(other) + " less " + shortened(machine);
    }

    static DifferenceAxis.Row row(String name, Estimate e, boolean whole) {
        return new DifferenceAxis.Row(name, e.value(), e.low(), e.high(), whole);
    }

    private static List<ClaimAxis.Panel> claims(Analysis analysis) {
        double z = Quantiles.normal((1 + analysis.trial().conditions().confidence()) / 2);
        return analysis.trial().machines().stream()
                .map(machine -> new ClaimAxis.Panel(
                        machine.id(),
                        analysis.cells().stream()
                                .filter(c -> c.cell().machine().equals(machine.id()))
                                .map(c -> new ClaimAxis.Row(
                                        name(c.cell()),
                                        c.diameter().value(),
                                        Math.max(0, c.diameter().low()),
                                        c.diameter().high()))
                                .toList(),
                        analysis.claims().stream()
                                .flatMap(check -> check.readings().stream()
                                        .limit(1)
                                        .filter(r -> r.cell().machine().equals(machine.id()))
                                        .flatMap(r -> r.comparison().stream()
                                                .map(c -> new ClaimAxis.Row(
                                                        stated(check.claim()) + ", as " + name(r.cell()),
                                                        c.claimed(),
                                                        c.claimed() - z * c.claimedUncertainty(),
                                                        c.claimed() + z * c.claimedUncertainty()))))
                                .toList()))
                .toList();
    }

    private static String stated(Claim claim) {
        return claim.id() + (claim.who().isEmpty() ? "" : " " + claim.who());
    }

    private static CellColumn column(CellEstimate cell) {
        Estimate d = cell.diameter();
        return new CellColumn(
                cell.cell().machine(),
                name(cell.cell()),
                d.value(),
                Math.max(0, d.low()), // no diameter is less
                d.high(),
                cell.circles().stream()
                        .map(c -> new CirclePoint(
                                c.circle().id(),
                                c.summary().orElseThrow().mean(),
                                c.circle().order()))
                        .toList());
    }

    static String name(Cell cell) {
        return cell.turn().word() + " " + condition(cell);
    }

    /** A long name gives way, so that the drive behind it can still be read in a chart. */
    private static String shortened(String name) {
        return Drawing.cut(name, 26);
    }

    static String condition(Cell cell) {
        return cell.drive().word() + (cell.brakes() == Brakes.USED ? ", brakes used" : "");
    }

    /** Of an asymmetry whose remainder is known. */
    private static Optional<Decomposition> decomposition(Asymmetry asymmetry, double confidence) {
        Finding finding = asymmetry.finding();
        double z = Quantiles.normal((1 + confidence) / 2);
        return finding.estimate()
                .flatMap(rest -> finding.part("deckOffset")
                        .map(deck -> new Decomposition(
                                shortened(asymmetry.left().machine()) + ", " + condition(asymmetry.left()),
                                asymmetry.measured().orElseThrow().estimate().value(),
                                asymmetry.measured().orElseThrow().estimate().halfWidth(),
                                finding.part("lockAngles")
                                        .filter(p -> p.estimate() != 0)
                                        .map(p -> OptionalDouble.of(p.estimate()))
                                        .orElse(OptionalDouble.empty()),
                                deck.estimate(),
                                z * deck.standardUncertainty(),
                                finding.part("steeringStops")
                                        .map(p -> OptionalDouble.of(p.estimate()))
                                        .orElse(OptionalDouble.empty()),
                                z
                                        * finding.part("steeringStops")
                                                .map(Part::standardUncertainty)
                                                .orElse(0.0),
                                rest.value(),
                                rest.low(),
                                rest.high())));
    }

    /** The first drive in which both turns were measured and the blades fit them. */
    private static Optional<Drawing> planView(Analysis analysis, Machine machine, LengthUnit unit) {
        return analysis.asymmetries().stream()
                .filter(a ->
                        a.left().machine().equals(machine.id()) && a.geometry().isPresent())
                .findFirst()
                .map(a -> {
                    Asymmetry.Geometry geometry = a.geometry().get();
                    return PlanView.draw(new PlanView.Scene(
                            machine.id(),
                            metres(machine.wheelbase()),
                            metres(machine.frontTrack()),
                            discs(machine),
                            OptionalDouble.of(geometry.deck().offset()),
                            turning("Left turn, ", a.left().drive(), geometry.radiusLeft(), geometry, 1),
                            turning("Right turn, ", a.left().drive(), geometry.radiusRight(), geometry, -1),
                            unit));
                });
    }

    private static PlanView.Turning turning(
            String turn, Drive drive, double radius, Asymmetry.Geometry geometry, int side) {
        return new PlanView.Turning(
                turn + drive.word(),
                radius,
                geometry.deck().c(),
                geometry.deck().uncutDiameter(radius, side));
    }

    static List<PlanView.BladeDisc> discs(Machine machine) {
        return machine.blades().stream()
                .map(b -> new PlanView.BladeDisc(
                        b.spindle(),
                        b.ahead().value().metres(),
                        b.left().value().metres(),
                        b.tipRadius().value().metres()))
                .toList();
    }

    static OptionalDouble metres(Optional<Measured> length) {
        return length.map(m -> OptionalDouble.of(m.value().metres())).orElse(OptionalDouble.empty());
    }

    /** What the parts of a left–right finding are called in text. */
    static String partName(Part part) {
        return switch (part.name()) {
            case "measured" -> "measured, right less left";
            case "lockAngles" -> "explained by the designed lock angles";
            case "deckOffset" -> "explained by the deck offset";
            case "steeringStops" -> "explained by the steering stops as driven";
            default -> part.name();
        };
    }
}
