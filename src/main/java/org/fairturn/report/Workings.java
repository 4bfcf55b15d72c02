package org.fairturn.report;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Asymmetry;
import org.fairturn.finding.CellEstimate;
import org.fairturn.finding.CircleResult;
import org.fairturn.finding.Contribution;
import org.fairturn.finding.Finding;
import org.fairturn.finding.MachineEstimate;
import org.fairturn.finding.Observation;
import org.fairturn.finding.Part;
import org.fairturn.finding.SideBySide;
import org.fairturn.geometry.BladeDisc;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Machine;
import org.fairturn.uncertainty.CircleSummary;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.Figures;

/** The formulae with the numbers put in, all lengths in millimetres. */
final class Workings {
    private Workings() {}

    static List<Working> of(Analysis analysis) {
        List<Working> workings = new ArrayList<>();
        for (MachineEstimate machine : analysis.machines()) {
            double level = analysis.trial().conditions().confidence();
            double sigmaB = machine.posterior().circleToCircle(level).value();
            double sigmaW = machine.posterior().reading(level).value();
            analysis.cells().stream()
                    .filter(c -> c.cell().machine().equals(machine.machine().id()))
                    .forEach(c -> workings.add(cell(c, sigmaB, sigmaW)));
        }
        for (Asymmetry asymmetry : analysis.asymmetries()) {
            asymmetry.geometry().ifPresent(g -> workings.add(leftRight(analysis, asymmetry, g)));
        }
        analysis.sideBySide()
                .ifPresent(s ->
                        s.compared().forEach(c -> c.apart().ifPresent(a -> workings.add(sideBySide(analysis, c, a)))));
        return workings;
    }

    private static Working sideBySide(Analysis analysis, SideBySide.Compared c, SideBySide.Apart a) {
        int side = c.machine().turn().sign();
        Machine machine = analysis.trial().machine(c.machine().machine()).orElseThrow();
        Machine other = analysis.trial().machine(c.other().machine()).orElseThrow();
        double d = a.deck().uncutDiameter(a.radius(), side);
        double e = a.otherDeck().uncutDiameter(a.otherRadius(), side);
        double mean = (a.radius() + a.otherRadius()) / 2;
        double reach = a.otherDeck().uncutDiameter(mean, side) - a.deck().uncutDiameter(mean, side);
        return new Working(
                other.id() + " less " + machine.id() + ", " + Drawings.name(c.machine()) + ": side by side",
                List.of(
                        new Working.Step("Measured.", mm(e) + " − " + mm(d) + " = " + mm(e - d) + " mm"),
                        radius(c.machine().turn().word(), d, a.radius(), side, a.deck(), machine),
                        radius(c.other().turn().word(), e, a.otherRadius(), side, a.otherDeck(), other),
                        new Working.Step(
                                "Mean of the two turn radii, at which the decks are looked at alone.",
                                "R̄ = (" + mm(a.radius()) + " + " + mm(a.otherRadius()) + ")/2 = " + mm(mean) + " mm"),
                        disc(c.machine().turn().word(), mean, side, a.deck(), machine),
                        disc(c.other().turn().word(), mean, side, a.otherDeck(), other),
                        new Working.Step(
                                "What the reach of the decks makes of it; the rest is the chassis's.",
                                mm(reach) + " mm; " + mm(e - d) + " − " + mm(reach) + " = " + mm(e - d - reach)
                                        + " mm")));
    }

    private static Working cell(CellEstimate cell, double sigmaB, double sigmaW) {
        List<Working.Step> steps = new ArrayList<>();
        for (CircleResult circle : cell.circles()) {
            steps.add(circle(circle));
        }
        StringBuilder mean = new StringBuilder();
        double sum = 0;
        double precision = 0;
        for (int i = 0; i < cell.circles().size(); i++) {
            CircleSummary summary = cell.circles().get(i).summary().orElseThrow();
            mean.append(i == 0 ? "" : " + ")
                    .append(fixed(cell.weights().get(i), 3))
                    .append(" × ")
                    .append(mm(summary.mean()));
            sum += cell.weights().get(i) * summary.mean();
            precision += 1 / circleVariance(sigmaB, sigmaW, summary.weight());
        }
        steps.add(new Working.Step(
                "The cell's diameter is the weighted mean of its circles. A circle weighs 1/(σ_b² + (σ_w² + 0.29²)/W), W being how"
                        + " many readings across its readings are worth and 0.29 mm the finest a tape is read; shown at the"
                        + " median repeatability, σ_b = " + mm(sigmaB) + " mm and σ_w = " + mm(sigmaW)
                        + " mm, weights scaled"
                        + " to sum to 1.",
                mean + " = " + mm(sum) + " mm"));
        Estimate d = cell.diameter();
        double shared = cell.shared().standardUncertainty();
        steps.add(new Working.Step(
                "Its standard uncertainty at that repeatability, with the shared parts (tape "
                        + mm(cell.shared().tape()) + ", edge "
                        + mm(cell.shared().edge()) + ", missed centre "
                        + mm(cell.shared().missedCentre()) + " mm).",
                "√(1/Σ1/(σ_b² + (σ_w² + 0.29²)/W) + shared²) = √(" + mm(Math.sqrt(1 / precision)) + "² + " + mm(shared)
                        + "²) = " + mm(Math.sqrt(1 / precision + shared * shared)) + " mm"));
        steps.add(new Working.Step(
                "Averaged over every repeatability the readings and the prior allow, not only the median, this becomes the"
                        + " result.",
                "D = " + mm(d.value()) + " mm, u = " + mm(d.standardUncertainty()) + " mm, "
                        + Figures.percent(d.level()) + " interval " + mm(d.low()) + " to " + mm(d.high()) + " mm"));
        return new Working(cell.cell() + ": uncut diameter", steps);
    }

    private static double circleVariance(double sigmaB, double sigmaW, double weight) {
        return sigmaB * sigmaB + (sigmaW * sigmaW + MachineEstimate.RESOLUTION * MachineEstimate.RESOLUTION) / weight;
    }

    private static Working.Step circle(CircleResult circle) {
        List<Observation> all = circle.observations();
        CircleSummary summary = circle.summary().orElseThrow();
        boolean plain = all.stream().allMatch(o -> Math.abs(o.varianceFactor() - 1) < 0.005);
        String values = all.stream().map(o -> mm(o.diameter())).collect(Collectors.joining(plain ? " + " : ", "));
        return plain
                ? new Working.Step(
                        "Circle " + circle.circle().id() + ": mean of its readings.",
                        "(" + values + ")/" + all.size() + " = " + mm(summary.mean()) + " mm")
                : new Working.Step(
                        "Circle " + circle.circle().id()
                                + ": mean of its readings, each weighing 1/w, w being its variance against a tape laid across.",
                        "y = " + values + "; w = "
                                + all.stream()
                                        .map(o -> fixed(o.varianceFactor(), 2))
                                        .collect(Collectors.joining(", "))
                                + "; Σ(y/w)/Σ(1/w) = " + mm(summary.mean()) + " mm, W = Σ(1/w) = "
                                + fixed(summary.weight(), 2));
    }

    private static Working leftRight(Analysis analysis, Asymmetry asymmetry, Asymmetry.Geometry g) {
        Deck deck = g.deck();
        Machine machine = analysis.trial().machine(asymmetry.left().machine()).orElseThrow();
        double left = deck.uncutDiameter(g.radiusLeft(), 1);
        double right = deck.uncutDiameter(g.radiusRight(), -1);
        Finding finding = asymmetry.finding();
        List<Working.Step> steps = new ArrayList<>();
        steps.add(new Working.Step(
                "Measured: right less left.", mm(right) + " − " + mm(left) + " = " + mm(right - left) + " mm"));
        steps.add(radius("left", left, g.radiusLeft(), 1, deck, machine));
        steps.add(radius("right", right, g.radiusRight(), -1, deck, machine));
        steps.add(new Working.Step(
                "Mean of the two turn radii, at which the deck is looked at alone.",
                "R̄ = (" + mm(g.radiusLeft()) + " + " + mm(g.radiusRight()) + ")/2 = " + mm(g.commonRadius()) + " mm"));
        steps.add(disc("left", g.commonRadius(), 1, deck, machine));
        steps.add(disc("right", g.commonRadius(), -1, deck, machine));
        double deckPart = finding.part("deckOffset").map(Part::estimate).orElseThrow();
        steps.add(new Working.Step(
                "What the deck alone makes of it.",
                mm(deck.uncutDiameter(g.commonRadius(), -1)) + " − " + mm(deck.uncutDiameter(g.commonRadius(), 1))
                        + " = " + mm(deckPart) + " mm"));
        double slope = 2 * (deck.cosPhi(g.commonRadius(), 1) + deck.cosPhi(g.commonRadius(), -1));
        steps.add(new Working.Step(
                "Beside it the rule of thumb. It says too much, because the blades sit ahead of the rear axle: an offset moves the"
                        + " nearest tip sideways, but only the cosine of that counts towards the turn centre. The exact slope is"
                        + " 2·(cos φ_left + cos φ_right).",
                "4 × " + mm(deck.offset()) + " = " + mm(4 * deck.offset()) + " mm; exact slope 2 × ("
                        + fixed(deck.cosPhi(g.commonRadius(), 1), 3) + " + "
                        + fixed(deck.cosPhi(g.commonRadius(), -1), 3)
                        + ") = " + fixed(slope, 2)));
        double locks = finding.part("lockAngles").map(Part::estimate).orElse(0.0);
        steps.add(new Working.Step(
                finding.part("lockAngles").isPresent()
                        ? "What the designed lock angles make of it, by R = L·cot δ + t/2 for each turn."
                        : "The designed lock angles are not given; they are taken as alike.",
                finding.part("lockAngles").isPresent()
                        ? "left δ = " + machine.leftLock().orElseThrow() + ", right δ = "
                                + machine.rightLock().orElseThrow() + ": " + mm(locks) + " mm"
                        : ""));
        Estimate rest = finding.estimate().orElseThrow();
        steps.add(new Working.Step(
                "What remains.",
                mm(right - left) + " − " + mm(deckPart) + " − " + mm(locks) + " = " + mm(rest.value()) + " mm"));
        double geometry = g.contributions().stream()
                .mapToDouble(c -> c.effect() * c.effect())
                .sum();
        steps.add(new Working.Step(
                "Its uncertainty: what each dimension of the machine puts on it (half the change for ± its standard"
                        + " uncertainty), then the readings.",
                g.contributions().stream()
                                .filter(c -> Math.abs(c.effect()) >= 0.00005)
                                .map(Workings::contribution)
                                .collect(Collectors.joining("; "))
                        + "; together " + mm(Math.sqrt(geometry)) + " mm; with the readings u = "
                        + mm(rest.standardUncertainty()) + " mm"));
        steps.add(new Working.Step(
                "Decision: the probability that what remains lies within ± the practical margin, or beyond it, against "
                        + Figures.percent(analysis.trial().conditions().confidence()) + ".",
                "m = " + mm(finding.margin()) + " mm: "
                        + Figures.percent(finding.verdict().probability()) + " "
                        + finding.verdict().fold(w -> "within", b -> "beyond", c -> "on the likelier side", n -> "")));
        return new Working(
                asymmetry.left().machine() + ", " + Drawings.condition(asymmetry.left()) + ": left against right",
                steps);
    }

    private static String contribution(Contribution c) {
        return c.name() + " ± " + mm(c.standardUncertainty()) + " → " + mm(Math.abs(c.effect()));
    }

    private static String spindle(BladeDisc disc, Deck deck, Machine machine) {
        return machine.blades().get(deck.blades().indexOf(disc)).spindle();
    }

    private static Working.Step radius(String turn, double d, double radius, int side, Deck deck, Machine machine) {
        BladeDisc b = deck.closest(radius, side);
        return new Working.Step(
                "Turn radius that left the " + turn + " disc; the " + spindle(b, deck, machine)
                        + " blade cuts closest.",
                "R = s·y + √((D/2 + r)² − (x − c)²) = " + signed(side * b.y()) + " + √((" + mm(d) + "/2 + " + mm(b.r())
                        + ")² − (" + mm(b.x()) + " − " + mm(deck.c()) + ")²) = " + mm(radius) + " mm");
    }

    private static Working.Step disc(String turn, double radius, int side, Deck deck, Machine machine) {
        BladeDisc b = deck.closest(radius, side);
        return new Working.Step(
                "The disc the deck leaves there turning " + turn + "; the " + spindle(b, deck, machine)
                        + " blade cuts closest.",
                "D = 2·(√((x − c)² + (R̄ − s·y)²) − r) = 2·(√((" + mm(b.x()) + " − " + mm(deck.c()) + ")² + ("
                        + mm(radius) + " − " + signed(side * b.y()) + ")²) − " + mm(b.r()) + ") = "
                        + mm(deck.uncutDiameter(radius, side)) + " mm");
    }

    private static String signed(double metres) {
        return metres < 0 ? "(" + mm(metres) + ")" : mm(metres);
    }

    private static String mm(double metres) {
        return Figures.fixed(1000 * metres, 1).replace('-', '−');
    }

    private static String fixed(double value, int decimals) {
        return Figures.fixed(value, decimals);
    }
}
