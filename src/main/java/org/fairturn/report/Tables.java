package org.fairturn.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Asymmetry;
import org.fairturn.finding.CellEstimate;
import org.fairturn.finding.CircleResult;
import org.fairturn.finding.ClaimCheck;
import org.fairturn.finding.Difference;
import org.fairturn.finding.Finding;
import org.fairturn.finding.MachineEstimate;
import org.fairturn.finding.Observation;
import org.fairturn.finding.Part;
import org.fairturn.finding.StopEffect;
import org.fairturn.finding.Testers;
import org.fairturn.finding.Wording;
import org.fairturn.folder.DataCode;
import org.fairturn.trial.Blade;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.trial.SteeringStop;
import org.fairturn.trial.Tyre;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.Interlaboratory;
import org.fairturn.units.Figures;
import org.fairturn.units.Length;

/** The tables of a report. */
final class Tables {
    private static final String NONE = "–";

    private final Analysis analysis;
    private final Conditions conditions;
    private final Wording wording;

    Tables(Analysis analysis) {
        this.analysis = analysis;
        this.conditions = analysis.trial().conditions();
        this.wording = new Wording(conditions.lengthUnit());
    }

    Table conditions() {
        List<List<String>> rows = new ArrayList<>();
        rows.add(List.of("Date", conditions.date().toString()));
        rows.add(List.of("Data code", DataCode.of(analysis.trial()) + " (the same code: made from the same data)"));
        rows.add(List.of(
                "Machines",
                String.join(
                        "; ",
                        analysis.trial().machines().stream().map(Machine::label).toList())));
        Stream.of(
                        new String[] {"Place", conditions.place()},
                        new String[] {"Operator", conditions.operator()},
                        new String[] {"Surface", conditions.surface()},
                        new String[] {"Grass", conditions.grass()},
                        new String[] {"Slope", conditions.slope()},
                        new String[] {"Weather", conditions.weather()},
                        new String[] {
                            "Tape class", conditions.tapeClass().map(Enum::name).orElse("")
                        },
                        new String[] {
                            "Cut edge seen to",
                            conditions
                                    .edgeDefinition()
                                    .map(l -> "±" + wording.amount(l.metres()))
                                    .orElse("")
                        },
                        new String[] {
                            "Practical margin",
                            wording.amount(conditions.practicalMargin().metres())
                        },
                        new String[] {"Confidence asked for", Figures.percent(conditions.confidence())},
                        new String[] {
                            "Assumed repeatability",
                            String.join(" ", conditions.assumption().sentences())
                        },
                        new String[] {"Notes", conditions.notes()})
                .filter(pair -> !pair[1].isEmpty())
                .forEach(pair -> rows.add(List.of(pair)));
        return new Table("The trial", List.of("What", "Value"), rows);
    }

    /** The figure most people come for, a line a cell. */
    Table diameters() {
        return new Table(
                "The uncut circle each turn left",
                List.of("Machine, turn, drive", "Diameter", level() + " interval", "Circles"),
                analysis.cells().stream()
                        .map(cell -> List.of(
                                cell.cell().toString(),
                                wording.amount(cell.diameter()),
                                wording.sizeInterval(cell.diameter()),
                                cell.circles().size() + (cell.restsOnAssumption() ? ", rests on assumption" : "")))
                        .toList());
    }

    List<Table> results() {
        List<Table> tables = new ArrayList<>(List.of(cells(), differences()));
        analysis.asymmetries().forEach(a -> tables.add(parts(a)));
        tables.add(stopEffects());
        tables.add(claimReadings());
        tables.addAll(new ComplaintTables(analysis).all());
        analysis.sideBySide().ifPresent(s -> tables.addAll(new SideBySideTables(conditions, s).all()));
        analysis.testers().ifPresent(t -> tables.add(testers(t)));
        tables.add(repeatability());
        return tables;
    }

    private Table cells() {
        List<List<String>> rows = new ArrayList<>();
        for (CellEstimate cell : analysis.cells()) {
            Estimate d = cell.diameter();
            rows.add(List.of(
                    cell.cell().toString(),
                    wording.amount(d),
                    wording.amount(d.standardUncertainty()),
                    wording.sizeInterval(d),
                    cell.circles().size() + " / " + cell.readings(),
                    cell.turnRadius().map(wording::amount).orElse(NONE),
                    cell.turnRadius().map(wording::interval).orElse(NONE),
                    cell.restsOnAssumption() ? "assumed repeatability" : "this trial"));
        }
        return new Table(
                "Uncut diameter and turn radius of each cell",
                List.of(
                        "Cell",
                        "Uncut diameter",
                        "Standard uncertainty",
                        level() + " interval",
                        "Circles / readings",
                        "Turn radius",
                        level() + " interval",
                        "Rests on"),
                rows);
    }

    private String level() {
        return Figures.percent(conditions.confidence());
    }

    private Table differences() {
        List<List<String>> rows = new ArrayList<>();
        for (Difference difference : analysis.differences()) {
            Estimate d = difference.estimate();
            rows.add(List.of(
                    difference.from().machine() + ": " + Drawings.name(difference.to()) + " less "
                            + Drawings.name(difference.from()),
                    wording.signed(d),
                    wording.amount(d.standardUncertainty()),
                    wording.interval(d),
                    difference
                            .dataOnly()
                            .map(o -> wording.interval(o.estimate()) + ", " + Figures.fixed(o.degreesOfFreedom(), 1)
                                    + " degrees of freedom")
                            .orElse("none: too few circles"),
                    difference.restsOnAssumption() ? "assumed repeatability" : "this trial"));
        }
        return new Table(
                "Differences between cells",
                List.of(
                        "Difference",
                        "Estimate",
                        "Standard uncertainty",
                        level() + " interval",
                        level() + " interval from the data alone",
                        "Rests on"),
                rows);
    }

    private Table parts(Asymmetry asymmetry) {
        List<List<String>> rows = new ArrayList<>();
        Finding finding = asymmetry.finding();
        for (Part part : finding.parts()) {
            rows.add(amount(Drawings.partName(part), part.estimate(), part.standardUncertainty()));
        }
        finding.estimate().ifPresent(q -> rows.add(amount("what remains", q.value(), q.standardUncertainty())));
        asymmetry
                .ruleOfThumb()
                .ifPresent(r -> rows.add(
                        List.of("beside it: rule of thumb, four times the deck offset", wording.signed(r), NONE)));
        asymmetry
                .geometry()
                .ifPresent(g -> rows.add(amount(
                        "deck offset that alone would explain the measured difference, + to the left (the deck is at "
                                + wording.signed(g.deck().offset()) + ")",
                        g.equalisingOffset(),
                        g.equalisingUncertainty())));
        return new Table(
                "Left against right, taken apart: " + asymmetry.left().machine() + ", "
                        + Drawings.condition(asymmetry.left()),
                List.of("Part", "Amount", "Standard uncertainty"),
                rows);
    }

    private List<String> amount(String name, double value, double standardUncertainty) {
        return List.of(name, wording.signed(value, standardUncertainty), wording.amount(standardUncertainty));
    }

    private Table stopEffects() {
        List<List<String>> rows = new ArrayList<>();
        for (StopEffect effect : analysis.stops()) {
            String name = effect.machine() + ", " + effect.stop().side().word() + " stop, limits the "
                    + effect.stop().limits().word() + " turn";
            String contact = effect.stop()
                    .touchesAxle()
                    .map(touches -> touches ? "yes" : "NO: mend this first")
                    .orElse("not looked at");
            if (effect.found().isEmpty() && effect.set().isEmpty()) {
                rows.add(List.of(
                        name, "cannot be said", contact, NONE, NONE, NONE, "missing: " + effect.missing(), NONE));
            }
            effect.found()
                    .ifPresent(c -> rows.add(stopEffect(
                            name,
                            effect.stop().set().isPresent() ? "as found, before the trial" : "as found, driven so",
                            contact,
                            c,
                            about(effect))));
            effect.set().ifPresent(c -> rows.add(stopEffect(name, "as set, driven so", contact, c, about(effect))));
        }
        return new Table(
                "What each steering stop makes of its turn by standing off its specification",
                List.of(
                        "Stop",
                        "State",
                        "Touches axle",
                        "Protrudes more by",
                        "Lock angle",
                        "Turn radius",
                        "Uncut diameter",
                        "About the lock angle"),
                rows);
    }

    private static String about(StopEffect effect) {
        return effect.fromCircles()
                .map(lock -> "shown by the circles in " + lock.drive().word() + ", "
                        + Figures.fixed(Math.toDegrees(lock.angle().value()), 1) + "° ± "
                        + Figures.fixed(Math.toDegrees(lock.angle().standardUncertainty()), 1) + "°")
                .orElse("as designed");
    }

    private List<String> stopEffect(String name, String state, String contact, StopEffect.Change change, String about) {
        return List.of(
                name,
                state,
                contact,
                wording.fineSigned(change.deviation()),
                Figures.fixed(Math.toDegrees(change.lock().value()), 2).replace('-', '−') + "° ± "
                        + Figures.fixed(Math.toDegrees(change.lock().standardUncertainty()), 2) + "°",
                plusMinus(change.radius()),
                change.diameter().map(this::plusMinus).orElse("the blades are not known"),
                about);
    }

    private String plusMinus(StopEffect.Amount amount) {
        return wording.signed(amount.value(), amount.standardUncertainty()) + ", u "
                + wording.amount(amount.standardUncertainty());
    }

    private Table claimReadings() {
        List<List<String>> rows = new ArrayList<>();
        for (ClaimCheck check : analysis.claims()) {
            String name = check.claim().id()
                    + (check.claim().who().isEmpty() ? "" : ", " + check.claim().who());
            for (ClaimCheck.Reading reading : check.readings()) {
                rows.add(reading.comparison()
                        .map(c -> List.of(
                                name,
                                reading.cell().toString(),
                                wording.amount(c.claimed()) + ", u " + wording.amount(c.claimedUncertainty()),
                                wording.amount(c.measured()) + ", u " + wording.amount(c.measuredUncertainty()),
                                wording.signed(c.claimed() - c.measured()),
                                signed(c.zeta()),
                                signed(c.en()),
                                Figures.percent(Math.min(reading.probability(), 0.9999)),
                                reading.remedies().isEmpty() ? NONE : reading.remedies()))
                        .orElse(List.of(
                                name,
                                reading.cell().toString(),
                                "not compared; missing: " + reading.missing(),
                                NONE,
                                NONE,
                                NONE,
                                NONE,
                                NONE,
                                NONE)));
            }
            if (check.readings().stream().anyMatch(r -> r.comparison().isPresent())) {
                rows.add(List.of(
                        name,
                        "none of these",
                        NONE,
                        NONE,
                        NONE,
                        NONE,
                        NONE,
                        Figures.percent(Math.min(check.noneOfThese(), 0.9999)),
                        NONE));
            }
        }
        return new Table(
                "Every claim in every reading of it, as uncut diameters",
                List.of(
                        "Claim",
                        "Read as",
                        "The claim comes to",
                        "Measured",
                        "Claim less measured",
                        "Zeta",
                        "E_n",
                        "Probability that it means this",
                        "What would have to differ for it to hold"),
                rows);
    }

    private static String signed(double score) {
        return Figures.fixed(score, 2).replace('-', '−');
    }

    private Table testers(Testers testers) {
        List<List<String>> rows = new ArrayList<>();
        for (Testers.Level level : testers.levels()) {
            Interlaboratory measured = level.measured();
            rows.addAll(HAndK.rows(level.circle(), measured, wording));
        }
        testers.scatter().forEach((who, k) -> rows.add(HAndK.row("all circles, " + who, k)));
        return new Table(
                "Those who measured the same circle straight across; Mandel's h (mean against the others) and k (scatter against"
                        + " all) with a mark where they pass the critical value at 0.5 %",
                List.of("Circle, measurer", "Readings", "Mean", "Standard deviation", "h", "k"), rows);
    }

    private Table repeatability() {
        List<List<String>> rows = new ArrayList<>();
        for (MachineEstimate machine : analysis.machines()) {
            rows.add(spread(
                    machine,
                    "circle to circle",
                    machine.posterior().circleToCircle(conditions.confidence()),
                    machine.anova().degreesBetween()));
            rows.add(spread(
                    machine,
                    "reading to reading",
                    machine.posterior().reading(conditions.confidence()),
                    machine.anova().degreesWithin()));
        }
        return new Table(
                "Repeatability (standard deviation)",
                List.of("Machine", "Of what", "Median", level() + " interval", "Degrees of freedom in the data"),
                rows);
    }

    private List<String> spread(MachineEstimate machine, String what, Estimate sigma, int degrees) {
        return List.of(
                machine.machine().id(),
                what,
                wording.amount(sigma),
                wording.interval(sigma),
                Integer.toString(degrees));
    }

    List<Table> data() {
        List<Table> tables = new ArrayList<>(List.of(readings(), machines(), blades()));
        if (analysis.trial().machines().stream().anyMatch(m -> !m.stops().isEmpty())) {
            tables.add(stops());
        }
        tables.add(tyres());
        if (!analysis.trial().claims().isEmpty()) {
            tables.add(claims());
        }
        return tables;
    }

    private Table readings() {
        List<List<String>> rows = new ArrayList<>();
        for (CircleResult circle : analysis.circles()) {
            String id = circle.circle().id() + (circle.circle().use() ? "" : " (not used)");
            String order = circle.circle().order().isPresent()
                    ? Integer.toString(circle.circle().order().getAsInt())
                    : NONE;
            for (Observation observation : circle.observations()) {
                rows.add(List.of(
                        id,
                        order,
                        circle.circle().cell().toString(),
                        observation.kind(),
                        observation.written(),
                        observation.working() + " mm",
                        wording.amount(observation.diameter()),
                        Figures.fixed(observation.varianceFactor(), 2),
                        Figures.fixed(1000 * observation.shared().tape(), 1) + " / "
                                + Figures.fixed(1000 * observation.shared().edge(), 1) + " / "
                                + Figures.fixed(1000 * observation.shared().missedCentre(), 1)));
            }
            if (circle.observations().isEmpty()) {
                rows.add(List.of(id, order, circle.circle().cell().toString(), NONE, NONE, NONE, NONE, NONE, NONE));
            }
        }
        return new Table(
                "Every reading, as typed and as a diameter",
                List.of(
                        "Circle",
                        "Order",
                        "Cell",
                        "Kind",
                        "As typed",
                        "Working (mm)",
                        "Diameter",
                        "Variance against a tape laid across",
                        "Shared: tape / edge / centre (mm)"),
                rows);
    }

    private Table machines() {
        List<List<String>> rows = new ArrayList<>();
        for (Machine machine : analysis.trial().machines()) {
            rows.add(List.of(
                    machine.id(),
                    machine.label(),
                    length(machine.wheelbase()),
                    length(machine.frontTrack()),
                    machine.leftLock().map(a -> a.asDegrees(1)).orElse(NONE),
                    machine.rightLock().map(a -> a.asDegrees(1)).orElse(NONE),
                    length(machine.deckOffset()),
                    length(machine.turnCentreShift())));
        }
        return new Table(
                "Machines",
                List.of(
                        "Machine",
                        "Label",
                        "Wheelbase",
                        "Front track",
                        "Left lock",
                        "Right lock",
                        "Deck offset (+ left)",
                        "Turn centre shift"),
                rows);
    }

    private Table blades() {
        List<List<String>> rows = new ArrayList<>();
        for (Machine machine : analysis.trial().machines()) {
            for (Blade blade : machine.blades()) {
                rows.add(List.of(
                        machine.id(),
                        blade.spindle(),
                        length(Optional.of(blade.ahead())),
                        length(Optional.of(blade.left())),
                        length(Optional.of(blade.tipRadius()))));
            }
        }
        return new Table(
                "Blades",
                List.of("Machine", "Spindle", "Ahead of rear axle", "Left of centreline", "Tip radius"),
                rows);
    }

    private Table stops() {
        List<List<String>> rows = new ArrayList<>();
        for (Machine machine : analysis.trial().machines()) {
            for (SteeringStop stop : machine.stops()) {
                rows.add(List.of(
                        machine.id(),
                        stop.side().word() + " wheel, limits the "
                                + stop.limits().word() + " turn",
                        plain(stop.specified()),
                        plain(stop.found()),
                        plain(stop.set()),
                        stop.touchesAxle().map(t -> t ? "yes" : "no").orElse("unknown"),
                        plain(stop.arm())));
            }
        }
        return new Table(
                "Steering stops, as noted",
                List.of("Machine", "Stop", "Specified", "Found", "Set", "Touches axle", "Arm"),
                rows);
    }

    private Table tyres() {
        List<List<String>> rows = new ArrayList<>();
        for (Machine machine : analysis.trial().machines()) {
            for (Tyre tyre : machine.tyres().stream().filter(Tyre::known).toList()) {
                rows.add(List.of(
                        machine.id(),
                        tyre.wheel(),
                        tyre.size().isEmpty() ? NONE : tyre.size(),
                        tyre.specified()
                                .map(p -> p.beside(conditions.lengthUnit()))
                                .orElse(NONE),
                        tyre.found().map(p -> p.beside(conditions.lengthUnit())).orElse(NONE)));
            }
        }
        return new Table(
                "Tyres, as the machine check found them",
                List.of("Machine", "Tyre", "Size", "Specified", "Found"),
                rows);
    }

    private Table claims() {
        List<List<String>> rows = new ArrayList<>();
        for (Claim claim : analysis.trial().claims()) {
            rows.add(List.of(
                    claim.id(),
                    claim.who().isEmpty() ? NONE : claim.who(),
                    wording.amount(claim.value().metres()),
                    claim.quantity().word(),
                    claim.machine().orElse("unstated"),
                    claim.turn().map(t -> t.word()).orElse("unstated"),
                    claim.drive().map(d -> d.word()).orElse("unstated"),
                    claim.brakes().map(b -> b.word()).orElse("unstated"),
                    claim.remark().isEmpty() ? NONE : claim.remark()));
        }
        return new Table(
                "Claims, as noted",
                List.of("Claim", "Who", "Value", "Quantity", "Machine", "Turn", "Drive", "Brakes", "Remark"),
                rows);
    }

    private String length(Optional<Measured> measured) {
        return measured.map(m -> wording.signed(m.value().metres())
                        + m.standardUncertainty()
                                .map(u -> ", u " + Figures.fixed(u.millimetres(), 1) + " mm")
                                .orElse(""))
                .orElse(NONE);
    }

    private String plain(Optional<Length> length) {
        return length.map(l -> Figures.fixed(l.millimetres(), 1) + " mm").orElse(NONE);
    }
}
