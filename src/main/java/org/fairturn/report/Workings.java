package org.fairturn.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Asymmetry;
import org.fairturn.finding.CellEstimate;
import org.fairturn.finding.CircleResult;
import org.fairturn.finding.ClaimCheck;
import org.fairturn.finding.Complaint;
import org.fairturn.finding.Contribution;
import org.fairturn.finding.DeckModel;
import org.fairturn.finding.Finding;
import org.fairturn.finding.MachineEstimate;
import org.fairturn.finding.Observation;
import org.fairturn.finding.Part;
import org.fairturn.finding.SideBySide;
import org.fairturn.finding.StopEffect;
import org.fairturn.geometry.BladeDisc;
import org.fairturn.geometry.Deck;
import org.fairturn.geometry.TurningCircle;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Machine;
import org.fairturn.trial.SteeringStop;
import org.fairturn.uncertainty.CircleSummary;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.Figures;

/** The formulae with the numbers put in, all lengths in millimetres. */
final class Workings {
    private static final double LEAST_RATIO = 1e-290;

    private static final String RESOLUTION = Figures.fixed(1000 * MachineEstimate.RESOLUTION, 2);

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
        analysis.claims().stream()
                .filter(c -> c.readings().stream().anyMatch(r -> r.comparison().isPresent()))
                .forEach(c -> workings.add(claim(analysis, c)));
        analysis.complaints().forEach(c -> workings.add(complaint(c)));
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
        for (int i = 0; i < cell.circles().size(); i++) {
            CircleSummary summary = cell.circles().get(i).summary().orElseThrow();
            mean.append(i == 0 ? "" : " + ")
                    .append(fixed(cell.weights().get(i), 3))
                    .append(" × ")
                    .append(mm(summary.mean()));
            sum += cell.weights().get(i) * summary.mean();
        }
        steps.add(new Working.Step(
                "The cell's diameter is the weighted mean of its circles. A circle weighs 1/(σ_b² + (σ_w² + "
                        + RESOLUTION
                        + "²)/W), W being how"
                        + " many readings across its readings are worth and " + RESOLUTION
                        + " mm the finest a tape is read; shown at the"
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
                "√(1/Σ1/(σ_b² + (σ_w² + " + RESOLUTION + "²)/W) + shared²) = √(" + mm(cell.typicalUncertainty())
                        + "² + " + mm(shared) + "²) = " + mm(Math.hypot(cell.typicalUncertainty(), shared)) + " mm"));
        steps.add(new Working.Step(
                "Averaged over every repeatability the readings and the prior allow, not only the median, this becomes the"
                        + " result.",
                "D = " + mm(d.value()) + " mm, u = " + mm(d.standardUncertainty()) + " mm, "
                        + Figures.percent(d.level()) + " interval " + mm(d.low()) + " to " + mm(d.high()) + " mm"));
        return new Working(cell.cell() + ": uncut diameter", steps);
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
                "4 × " + mm(deck.offset()) + " = "
                        + mm(asymmetry.ruleOfThumb().orElseThrow()) + " mm; exact slope 2 × ("
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
        Optional<Part> stops = finding.part("steeringStops");
        stops.ifPresent(part -> steps.addAll(stops(analysis, asymmetry, part)));
        Estimate rest = finding.estimate().orElseThrow();
        steps.add(new Working.Step(
                "What remains.",
                mm(right - left) + " − " + mm(deckPart) + " − " + mm(locks)
                        + stops.map(part -> " − " + mm(part.estimate())).orElse("") + " = " + mm(rest.value())
                        + " mm"));
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

    /** Each stop as driven, then both turns together. */
    private static List<Working.Step> stops(Analysis analysis, Asymmetry asymmetry, Part part) {
        List<Working.Step> steps = new ArrayList<>();
        for (StopEffect effect : analysis.stops()) {
            SteeringStop stop = effect.stop();
            if (effect.machine().equals(asymmetry.left().machine())
                    && effect.driven().isPresent()) {
                StopEffect.Change change = effect.driven().get();
                Machine machine = analysis.trial().machine(effect.machine()).orElseThrow();
                steps.add(new Working.Step(
                        "The " + stop.side().word() + " stop, which limits the "
                                + stop.limits().word()
                                + " turn: Δb more protrusion over the arm a takes Δδ = Δb/a off the wheel's angle; with"
                                + (stop.side() == stop.limits()
                                        ? " R = L·cot δ + t/2"
                                        : " R = L·cot δ − t/2, the wheel being on the outside,")
                                + effect.fromCircles()
                                        .map(lock -> " about the lock angle the circles in "
                                                + lock.drive().word() + " show, inner wheel "
                                                + fixed(
                                                        Math.toDegrees(
                                                                lock.angle().value()),
                                                        2) + "° at R = "
                                                + mm(lock.radius())
                                                + " mm by δ = arccot((R − t/2)/L) with the stop as driven,")
                                        .orElse(" about the designed lock angle")
                                + " this changes the turn radius by dR.",
                        "Δb = " + signed(change.deviation()) + " mm, a = "
                                + mm(stop.arm().orElseThrow().metres()) + " mm: Δδ = "
                                + fixed(-Math.toDegrees(change.lock().value()), 3)
                                        .replace('-', '−')
                                + "°; L = "
                                + mm(machine.wheelbase().orElseThrow().value().metres()) + " mm: dR = "
                                + mm(change.radius().value()) + " mm"));
            }
        }
        steps.add(new Working.Step(
                "What the stops as driven make of the two circles, by ideal steering in either drive: the radii at specification with dR added to each, right less left, less"
                        + " the same without.",
                mm(part.estimate()) + " mm, u = " + mm(part.standardUncertainty()) + " mm"));
        return steps;
    }

    private static Working claim(Analysis analysis, ClaimCheck check) {
        Claim claim = check.claim();
        List<Working.Step> steps = new ArrayList<>();
        double figure = claim.value().metres();
        steps.add(new Working.Step(
                "The claim states a " + claim.quantity().word() + " and "
                        + (claim.uncertainty().isPresent()
                                ? "a standard uncertainty."
                                : "no uncertainty: it gets that of the mean of "
                                        + claim.circlesBehindIt().orElse(1)
                                        + " circle(s) with one reading each, driven like those of this trial, averaged over what"
                                        + " their repeatability may be, and of another tape and eye. Other ground or another"
                                        + " machine may scatter more."),
                mm(figure) + " mm"
                        + claim.uncertainty()
                                .map(u -> ", u = " + mm(u.metres()) + " mm")
                                .orElse("")));
        for (ClaimCheck.Reading reading : check.readings()) {
            reading.comparison().ifPresent(c -> {
                Machine machine =
                        analysis.trial().machine(reading.cell().machine()).orElseThrow();
                steps.addAll(converted(claim, reading, machine));
                steps.add(new Working.Step(
                        "Read as " + reading.cell()
                                + ": claim less trial over the standard uncertainty of the difference; E_n is"
                                + " the same with both expanded by k = 2.",
                        "ζ = (" + mm(c.claimed()) + " − " + mm(c.measured()) + ")/√(" + mm(c.claimedUncertainty())
                                + "² + "
                                + mm(c.measuredUncertainty()) + "²) = "
                                + fixed(c.zeta(), 2).replace('-', '−') + "; E_n = ζ/2 = "
                                + fixed(c.en(), 2).replace('-', '−')));
            });
        }
        steps.add(new Working.Step(
                "How likely each is meant: the probability density of the stated figure under each reading, and under none of them"
                        + " (300 mm more of standard deviation, averaged over the readings), all equally likely beforehand.",
                check.readings().stream()
                                .filter(r -> r.comparison().isPresent())
                                .map(r -> r.cell() + ": " + fixed(r.probability(), 4))
                                .collect(Collectors.joining("; "))
                        + "; none of these: " + fixed(check.noneOfThese(), 4)));
        return new Working("Claim " + claim.id() + " against this trial", steps);
    }

    private static Working complaint(Complaint complaint) {
        List<Working.Step> steps = new ArrayList<>();
        steps.add(new Working.Step(
                "Measured less reference, with the uncertainty of both.",
                complaint.compared().stream()
                        .map(c -> Drawings.name(c.cell()) + ": "
                                + mm(c.reference() + c.excess().value())
                                + " − " + mm(c.reference()) + " = "
                                + mm(c.excess().value()) + " mm, u = "
                                + mm(c.excess().standardUncertainty()) + " mm")
                        .collect(Collectors.joining("; "))));
        steps.add(new Working.Step(
                "How well each cause explains these together, averaged over its size and over what the repeatability may be:"
                        + " probability afterwards over probability beforehand, " + counted(one(complaint))
                        + " counting as 1.",
                complaint.causes().stream()
                        .map(c -> c.name() + ": " + likelihood(c, complaint))
                        .collect(Collectors.joining("; "))));
        steps.add(new Working.Step(
                "Times the probability of each before the trial, scaled to sum to 1.",
                complaint.causes().stream()
                        .map(c -> c.name() + ": " + fixed(c.prior(), 3) + " × " + likelihood(c, complaint) + " → "
                                + ComplaintTables.probability(c.probability()))
                        .collect(Collectors.joining("; "))));
        return new Working(complaint.machine() + " held against " + complaint.source(), steps);
    }

    private static String likelihood(Complaint.Cause cause, Complaint complaint) {
        return String.format(Locale.ROOT, "%.3g", explained(cause) / explained(one(complaint)));
    }

    private static String counted(Complaint.Cause cause) {
        return cause.kind() == Complaint.Kind.NOTHING ? "nothing wrong" : cause.name();
    }

    private static double explained(Complaint.Cause cause) {
        return cause.probability() / cause.prior();
    }

    /** What counts as 1: nothing wrong, unless it explains so little that a ratio to it is no number any more. */
    private static Complaint.Cause one(Complaint complaint) {
        return complaint.causes().stream()
                .filter(c -> c.kind() == Complaint.Kind.NOTHING && explained(c) > LEAST_RATIO)
                .findFirst()
                .orElseGet(() -> complaint.causes().stream()
                        .max(Comparator.comparingDouble(Workings::explained))
                        .orElseThrow());
    }

    /** From the stated figure to the uncut diameter; nothing where it is one. */
    private static List<Working.Step> converted(Claim claim, ClaimCheck.Reading reading, Machine machine) {
        double figure = claim.value().metres();
        int side = reading.cell().turn().sign();
        return DeckModel.of(machine, reading.cell().drive()).stream()
                .filter(m -> claim.quantity() != Claim.Quantity.UNCUT_DIAMETER)
                .flatMap(model -> {
                    Deck deck = model.deck();
                    boolean circle = claim.quantity() == Claim.Quantity.TURNING_CIRCLE_DIAMETER;
                    double radius = figure;
                    List<Working.Step> steps = new ArrayList<>();
                    if (circle) {
                        double ahead = machine.wheelbase().orElseThrow().value().metres() - deck.c();
                        double track =
                                machine.frontTrack().orElseThrow().value().metres();
                        radius = new TurningCircle(ahead, track)
                                .turnRadius(figure)
                                .orElseThrow();
                        steps.add(new Working.Step(
                                "A turning circle is what the centre plane of the outer front wheel draws.",
                                "R = √((" + mm(figure) + "/2)² − " + mm(ahead) + "²) − " + mm(track) + "/2 = "
                                        + mm(radius) + " mm"));
                    }
                    Working.Step disc = disc(reading.cell().turn().word(), radius, side, deck, machine);
                    steps.add(new Working.Step(disc.text(), disc.formula().replace("R̄", "R")));
                    return steps.stream();
                })
                .toList();
    }

    private static String contribution(Contribution c) {
        return c.name() + " ± "
                + (c.angle() ? fixed(Math.toDegrees(c.standardUncertainty()), 1) + "°" : mm(c.standardUncertainty()))
                + " → " + mm(Math.abs(c.effect()));
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
        return Figures.typeset(1000 * metres, 1);
    }

    private static String fixed(double value, int decimals) {
        return Figures.fixed(value, decimals);
    }
}
