package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Stream;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Agreement;
import org.fairturn.units.LengthUnit;

/**
 * Does a figure somebody states agree with what was measured?
 *
 * <p>A claim that leaves turn, drive, brakes or machine open is held against everything it may mean. Claim and trial are
 * compared as uncut diameters; what is asked is claim − trial. A claim that states no uncertainty gets that of as many
 * circles as stand behind it, one where it does not say, driven and measured like those of this trial. With brakes used is a
 * different condition and is never converted.
 *
 * <p>Which reading is meant: each reading that was measured and "none of these" start out equally likely. Under a reading,
 * the claim lies about the trial's circle with the uncertainty of both; under "none of these", within {@link #NONE} more of
 * one of them.
 */
final class Claims {
    /**
     * Standard deviation (m) by which a claim that means none of its readings lies off them: about as much as direction and
     * drive move a circle. Our own choice.
     */
    static final double NONE = 0.3;

    /** What claims come to. */
    record Answers(List<ClaimCheck> checks, List<Answer<Asked>> answers) {}

    private final Asked asked;
    private final Trial trial;
    private final DecisionRule rule;
    private final ClaimWords words;
    private final Wording wording;

    private Claims(Asked asked) {
        this.asked = asked;
        this.trial = asked.trial();
        this.rule = asked.rule();
        this.wording = asked.wording();
        this.words = new ClaimWords(rule, wording);
    }

    static Answers of(Asked asked) {
        return new Claims(asked).answers();
    }

    private Answers answers() {
        List<ClaimCheck> checks = new ArrayList<>();
        List<Answer<Asked>> answers = new ArrayList<>();
        for (Claim claim : trial.claims()) {
            List<Held> held =
                    readings(asked, claim).map(cell -> hold(claim, cell)).toList();
            ClaimCheck check = check(claim, held);
            checks.add(check);
            answers.addAll(answers(check, held));
        }
        answers.addAll(new ClaimPairs(asked, words).answers());
        return new Answers(List.copyOf(checks), List.copyOf(answers));
    }

    /** A reading of a claim, held against the trial where that can be done. */
    private record Held(Cell cell, Optional<Sides> sides, String missing, boolean tooSmall) {
        static Held missing(Cell cell, String missing) {
            return new Held(cell, Optional.empty(), missing, false);
        }
    }

    /** Claim and trial as uncut diameters, and the difference of the two. */
    private record Sides(
            MachineEstimate estimate,
            ClaimConversion converted,
            MachineEstimate.Contrast difference,
            double ownVariance,
            double newCircle) {
        double claimedUncertainty() {
            return Math.sqrt(ownVariance + newCircle * estimate.posterior().newCircleVariance());
        }

        double measured() {
            return converted.diameter() - difference.value();
        }

        double measuredUncertainty(Cell cell) {
            return estimate.contrast(Map.of(cell, 1.0)).standardUncertainty();
        }

        /** What a density of diameters is multiplied by to be one of the claim's own measure. */
        double stretch() {
            return Math.abs(converted.slope());
        }

        double zeta(Cell cell) {
            return Agreement.zeta(converted.diameter(), claimedUncertainty(), measured(), measuredUncertainty(cell));
        }
    }

    /** All a claim may mean. Brakes that are not stated are none, or either where circles were driven with them. */
    static Stream<Cell> readings(Asked asked, Claim claim) {
        return asked.trial().machines().stream()
                .filter(m -> claim.machine().map(m.id()::equals).orElse(true))
                .flatMap(m -> all(claim.drive(), Drive.values())
                        .flatMap(drive -> all(claim.turn(), Turn.values())
                                .flatMap(turn -> Stream.of(Brakes.values())
                                        .map(brakes -> new Cell(m.id(), turn, drive, brakes)))))
                .filter(cell -> claim.brakes().isPresent()
                        ? claim.brakes().get() == cell.brakes()
                        : cell.brakes() == Brakes.NONE || asked.driven(cell).isPresent());
    }

    private static <T> Stream<T> all(Optional<T> stated, T[] values) {
        return stated.map(Stream::of).orElseGet(() -> Stream.of(values));
    }

    private Machine machine(Cell cell) {
        return trial.machine(cell.machine()).orElseThrow();
    }

    private Held hold(Claim claim, Cell cell) {
        return hold(claim, claim.quantity(), cell);
    }

    private Held hold(Claim claim, Claim.Quantity quantity, Cell cell) {
        List<String> missing = ClaimConversion.missing(quantity, machine(cell));
        if (!missing.isEmpty()) {
            return Held.missing(cell, String.join("; ", missing));
        }
        Optional<MachineEstimate> driven = asked.driven(cell);
        if (driven.isEmpty()) {
            return Held.missing(
                    cell,
                    "a circle of " + cell.machine() + " to the " + cell.turn().word() + " in "
                            + Wording.condition(cell));
        }
        return ClaimConversion.of(claim.value().metres(), quantity, machine(cell), cell)
                .map(converted -> new Held(cell, Optional.of(sides(claim, cell, converted, driven.get())), "", false))
                .orElseGet(() ->
                        new Held(cell, Optional.empty(), words.tooSmall(claim.value(), quantity, machine(cell)), true));
    }

    private static Sides sides(Claim claim, Cell cell, ClaimConversion converted, MachineEstimate estimate) {
        double[] c = new double[estimate.cells().size()];
        c[estimate.cells().indexOf(cell)] = -1;
        double newCircle = newCircle(claim);
        double ownVariance = converted.geometryVariance()
                + claim.uncertainty()
                        .map(u -> square(u.metres() * converted.slope()))
                        .orElse(estimate.sharedVariance(cell)); // another tape and another eye, as good as these
        return new Sides(
                estimate,
                converted,
                estimate.contrast(c, converted.diameter(), ownVariance, newCircle),
                ownVariance,
                newCircle);
    }

    /** How much of one circle's variance the claim carries for want of an uncertainty of its own. */
    static double newCircle(Claim claim) {
        return claim.uncertainty().isPresent()
                ? 0
                : 1.0 / claim.circlesBehindIt().orElse(1);
    }

    static double square(double x) {
        return x * x;
    }

    private ClaimCheck check(Claim claim, List<Held> held) {
        List<Held> compared = held.stream().filter(h -> h.sides().isPresent()).toList();
        List<Double> likelihoods = compared.stream()
                .map(h -> h.sides().get())
                .map(s -> s.difference().mixture().density(0) * s.stretch())
                .toList();
        // each reading a share of the prior, and "none of these" one: an average over where it may lie
        double none = compared.stream()
                .map(h -> h.sides().get())
                .mapToDouble(
                        s -> s.difference().mixture().moved(0, square(NONE)).density(0) * s.stretch())
                .average()
                .orElse(1);
        double total =
                none + likelihoods.stream().mapToDouble(Double::doubleValue).sum();
        boolean anyFits = compared.stream().anyMatch(Claims::fits);
        List<ClaimCheck.Reading> readings = new ArrayList<>();
        for (Held h : held) {
            int i = compared.indexOf(h);
            Optional<MachineThatFits.Changes> changes = h.sides()
                    .filter(s -> !fits(h))
                    .map(s -> new MachineThatFits(machine(h.cell()), h.cell(), wording)
                            .changes(s.converted().diameter(), s.measured()));
            readings.add(new ClaimCheck.Reading(
                    h.cell(),
                    subject(claim, h.cell()),
                    h.sides().map(s -> comparison(s, h.cell())),
                    i < 0 || !(total > 0) ? 0 : likelihoods.get(i) / total,
                    h.missing(),
                    changes.map(c -> wouldDiffer(claim, h, anyFits, c.causes())).orElse(List.of()),
                    changes.map(MachineThatFits.Changes::remedy).orElse(ClaimCheck.Remedy.STOP)));
        }
        // a stable sort: readings alike keep the order of machines, drives and turns
        readings.sort(
                Comparator.comparing((ClaimCheck.Reading r) -> r.comparison().isEmpty())
                        .thenComparing(r -> -r.probability()));
        return new ClaimCheck(claim, readings, total > 0 ? none / total : 1);
    }

    private static boolean fits(Held held) {
        return held.sides()
                .map(s -> Math.abs(s.zeta(held.cell())) <= Agreement.SATISFACTORY_ZETA)
                .orElse(false);
    }

    private static ClaimCheck.Comparison comparison(Sides s, Cell cell) {
        double u = s.measuredUncertainty(cell);
        return new ClaimCheck.Comparison(
                s.converted().diameter(),
                s.claimedUncertainty(),
                s.measured(),
                u,
                s.zeta(cell),
                Agreement.en(s.converted().diameter(), 2 * s.claimedUncertainty(), s.measured(), 2 * u));
    }

    private static Map<String, String> subject(Claim claim, Cell cell) {
        Map<String, String> subject = new LinkedHashMap<>();
        subject.put("claim", claim.id());
        subject.put("machine", cell.machine());
        subject.put("turn", cell.turn().word());
        subject.put("drive", cell.drive().word());
        if (cell.brakes() == Brakes.USED) {
            subject.put("brakes", cell.brakes().word());
        }
        subject.put(
                "reading", ClaimWords.reading(cell) + ", " + claim.quantity().word());
        return subject;
    }

    /** What would have to differ for a reading that does not fit: what the claim means, or the machine it was made of. */
    private List<String> wouldDiffer(Claim claim, Held held, boolean anyFits, List<String> ofTheMachine) {
        List<String> list = new ArrayList<>();
        Cell cell = held.cell();
        if (!anyFits) {
            for (Turn turn : Turn.values()) {
                for (Drive drive : Drive.values()) {
                    Cell other = new Cell(cell.machine(), turn, drive, cell.brakes());
                    boolean oneThing = (turn != cell.turn()) != (drive != cell.drive());
                    if (oneThing && fits(hold(claim, other))) {
                        list.add(
                                turn != cell.turn()
                                        ? "the turn (as a " + turn.word() + " turn it does not contradict the trial)"
                                        : "the drive (as " + drive.word() + " it does not contradict the trial)");
                    }
                }
            }
            list.addAll(otherMeasures(claim, cell));
            list.addAll(otherUnits(claim, cell));
        }
        list.addAll(ofTheMachine);
        return list;
    }

    /** Another quantity under the same word, half a diameter under the word of a whole one, and a whole one under a radius'. */
    private List<String> otherMeasures(Claim claim, Cell cell) {
        List<String> list = new ArrayList<>();
        boolean radius = claim.quantity() == Claim.Quantity.TURN_RADIUS;
        for (Claim.Quantity quantity : Claim.Quantity.values()) {
            if (quantity != claim.quantity() && fits(hold(claim, quantity, cell))) {
                list.add("the measure (as a figure for the " + quantity.word() + " it does not contradict the trial)");
            }
            boolean isDiameter = quantity != Claim.Quantity.TURN_RADIUS;
            if (isDiameter && (radius || quantity == claim.quantity()) && fits(hold(claim.times(2), quantity, cell))) {
                list.add("the measure (as a radius, half the " + quantity.word()
                        + ", it does not contradict the trial)");
            }
        }
        if (radius && fits(hold(claim.times(0.5), claim.quantity(), cell))) {
            list.add("the measure (as a diameter, twice the turn radius, it does not contradict the trial)");
        }
        return list;
    }

    /** The same number, without its unit or with a wrong one, in each of the others. */
    private List<String> otherUnits(Claim claim, Cell cell) {
        LengthUnit unit = trial.conditions().lengthUnit();
        List<String> list = new ArrayList<>();
        for (LengthUnit other : LengthUnit.values()) {
            Claim otherwise = claim.times(other.metres() / unit.metres());
            if (other != unit && fits(hold(otherwise, cell))) {
                list.add("the unit (" + otherwise.value().exactly(other) + " instead of "
                        + claim.value().exactly(unit) + " does not contradict the trial)");
            }
        }
        return list;
    }

    private List<Answer<Asked>> answers(ClaimCheck check, List<Held> held) {
        List<ClaimCheck.Reading> compared = check.readings().stream()
                .filter(r -> r.comparison().isPresent())
                .toList();
        if (compared.isEmpty()) {
            return List.of(Answer.open(notPossible(check, held.stream().allMatch(Held::tooSmall))));
        }
        List<Answer<Asked>> answers = new ArrayList<>();
        for (ClaimCheck.Reading reading : compared) {
            Sides sides = held.stream()
                    .filter(h -> h.cell().equals(reading.cell()))
                    .findFirst()
                    .flatMap(Held::sides)
                    .orElseThrow();
            ClaimCheck.Comparison c = reading.comparison().orElseThrow();
            Judgement judgement = new Judgement(sides.difference(), rule, DecisionRule.Asks.UNSIGNED);
            Finding finding = finding(
                    reading.subject(),
                    judgement,
                    sides.difference(),
                    List.of(
                            new Part("claim", c.claimed(), c.claimedUncertainty()),
                            new Part("trial", c.measured(), c.measuredUncertainty())),
                    words.sentence(
                            check,
                            reading,
                            sides.difference().estimate(),
                            judgement.verdict(),
                            reading.equals(compared.get(0))),
                    words.next(check, reading, judgement.verdict()));
            Claim claim = check.claim();
            Cell cell = reading.cell();
            answers.add(answer(finding, cell.machine(), m -> again(claim, cell, m, sides)));
        }
        return answers;
    }

    private Answer<Asked> answer(
            Finding finding, String machine, Function<MachineEstimate, Optional<MachineEstimate.Contrast>> difference) {
        return new Answer<>(
                finding,
                Set.of(machine),
                changed -> changed.machine(machine)
                        .flatMap(difference)
                        .map(q -> q.then(rule, DecisionRule.Asks.UNSIGNED)));
    }

    /** The same difference from other circles or under other dimensions. */
    private static Optional<MachineEstimate.Contrast> again(
            Claim claim, Cell cell, MachineEstimate changed, Sides sides) {
        if (!changed.has(cell)) {
            return Optional.empty();
        }
        Machine machine = changed.machine();
        Optional<ClaimConversion> converted = machine.equals(sides.estimate().machine())
                ? Optional.of(sides.converted())
                : ClaimConversion.of(claim.value().metres(), claim.quantity(), machine, cell);
        return converted.map(c -> sides(claim, cell, c, changed).difference());
    }

    private Finding finding(
            Map<String, String> subject,
            Judgement judgement,
            MachineEstimate.Contrast difference,
            List<Part> parts,
            String sentence,
            String next) {
        return Finding.judged(Question.CLAIM, subject, judgement, difference, rule, parts, wording, sentence, "", next);
    }

    private Finding notPossible(ClaimCheck check, boolean tooSmall) {
        List<String> missing = check.readings().stream()
                .map(ClaimCheck.Reading::missing)
                .distinct()
                .toList();
        Map<String, String> subject = new LinkedHashMap<>();
        subject.put("claim", check.claim().id());
        check.claim().machine().ifPresent(m -> subject.put("machine", m));
        check.claim().turn().ifPresent(t -> subject.put("turn", t.word()));
        check.claim().drive().ifPresent(d -> subject.put("drive", d.word()));
        subject.put("reading", check.claim().quantity().word());
        return Finding.notPossible(
                Question.CLAIM,
                subject,
                missing,
                rule,
                List.of(),
                false, // nothing was worked out that could rest on it
                words.notPossible(check.claim(), missing),
                tooSmall ? ClaimWords.askWhatItIs(check.claim()) : words.measure(check.claim()));
    }
}
