package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.NormalMixture;
import org.fairturn.uncertainty.Ranking;

/**
 * Which machine mows tighter, turn by turn and drive by drive and on the whole, and is it its chassis or its deck?
 *
 * <p>Of each pair the machine with the smaller circles on the whole is taken away, so that neither the order of the machines
 * nor their names decide a sign. With brakes is a different condition: it is compared, but does not count on the whole.
 */
final class Comparison {
    private final Asked asked;
    private final List<MachineEstimate> machines;
    private final DecisionRule rule;
    private final Wording wording;
    private final List<FairnessPoint> fairness;
    private final List<SideBySide.Compared> compared = new ArrayList<>();
    private final List<Answer<Asked>> answers = new ArrayList<>();
    private final SideBySide result;

    private Comparison(Asked asked) {
        this.asked = asked;
        this.machines = asked.machines();
        this.rule = asked.rule();
        this.wording = asked.wording();
        this.fairness = Fairness.of(asked.trial().conditions(), machines);
        this.result = answer();
    }

    /** The answer; empty where fewer than two machines have circles that count. */
    static Optional<Comparison> of(Asked asked) {
        return asked.machines().size() < 2 ? Optional.empty() : Optional.of(new Comparison(asked));
    }

    SideBySide result() {
        return result;
    }

    /** For each pair of machines on the whole, then in each cell both have. */
    List<Answer<Asked>> answers() {
        return answers;
    }

    private SideBySide answer() {
        List<MachineEstimate> ordered = machines.stream()
                .sorted(Comparator.comparing((MachineEstimate m) -> m.machine().id()))
                .toList();
        List<MachinePair> pairs = new ArrayList<>();
        for (int i = 0; i < ordered.size(); i++) {
            for (int j = i + 1; j < ordered.size(); j++) {
                pairs.add(smallerFirst(new MachinePair(ordered.get(i), ordered.get(j), rule.confidence())));
            }
        }
        // by size, so that the order of the findings does not hang on names either
        pairs.stream()
                .sorted(Comparator.comparingDouble((MachinePair p) -> overall(p.first()))
                        .thenComparingDouble(p -> overall(p.second())))
                .forEach(this::pair);
        List<Cell> everywhere = everywhere(ordered.get(0));
        return new SideBySide(compared, everywhere, ranking(ordered, everywhere), fairness, headland(ordered), uncut());
    }

    private static double overall(MachineEstimate machine) {
        return machine.cells().stream().mapToDouble(machine::mean).average().orElseThrow();
    }

    private static List<Cell> withoutBrakes(List<Cell> cells) {
        return cells.stream().filter(c -> c.brakes() == Brakes.NONE).toList();
    }

    private static MachinePair smallerFirst(MachinePair pair) {
        double difference = 0;
        List<Cell> cells = withoutBrakes(pair.common()).isEmpty() ? pair.common() : withoutBrakes(pair.common());
        for (Cell cell : cells) {
            difference += pair.second().mean(MachinePair.like(cell, pair.second()))
                    - pair.first().mean(cell);
        }
        return difference < 0 ? pair.swapped() : pair;
    }

    private void pair(MachinePair pair) {
        List<Cell> common = pair.common();
        if (common.isEmpty()) {
            answers.add(Answer.open(notPossible(pair)));
            return;
        }
        List<Cell> counted = withoutBrakes(common);
        if (counted.size() > 1) {
            answers.add(answer(onTheWhole(pair, counted), pair, changed -> {
                List<Cell> then = withoutBrakes(changed.common());
                return then.size() > 1 ? then : List.of();
            }));
        }
        for (Cell cell : common) {
            // the fairness list stands once, with the figure people will quote
            Finding finding = cell(pair, cell, counted.size() < 2 ? fairnessRemark() : "");
            answers.add(answer(
                    finding,
                    pair,
                    changed -> changed.common().stream().filter(cell::equals).toList()));
        }
    }

    /** A finding, and how the difference of the same two is asked again, in the same direction. */
    private Answer<Asked> answer(Finding finding, MachinePair pair, Function<MachinePair, List<Cell>> over) {
        return new Answer<>(
                finding,
                Set.of(id(pair.first()), id(pair.second())),
                changed -> changed.machine(id(pair.first()))
                        .flatMap(first -> changed.machine(id(pair.second()))
                                .map(second -> new MachinePair(first, second, rule.confidence())))
                        .flatMap(then -> Optional.of(over.apply(then))
                                .filter(cells -> !cells.isEmpty())
                                .map(cells -> then.difference(cells).then(rule, DecisionRule.Asks.UNSIGNED))));
    }

    private Finding onTheWhole(MachinePair pair, List<Cell> cells) {
        MachinePair.Contrast difference = pair.difference(cells);
        Judgement judgement = new Judgement(difference, rule, DecisionRule.Asks.UNSIGNED);
        Map<String, String> subject = onTheWhole(pair);
        double tighter = difference.mixture().probabilityAbove(0);
        String verdict = judgement
                .verdict()
                .fold(
                        w -> ": on the whole they mow alike.",
                        b -> ": on the whole " + tighter(pair, difference.estimate()) + " mows tighter.",
                        c -> ": this trial cannot tell yet.",
                        n -> "");
        return finding(
                subject,
                judgement,
                difference,
                List.of(),
                names(pair) + ", mean over the " + cells.size() + " turns and drives both were driven in: "
                        + compared(pair, "circles", difference, judgement.verdict())
                        + verdict + " " + id(pair.first()) + " is the tighter of the two"
                        + Wording.surely(tighter) + ".",
                fairnessRemark(),
                next(judgement.verdict()));
    }

    private Finding cell(MachinePair pair, Cell cell, String remark) {
        MachinePair.Contrast difference = pair.difference(List.of(cell));
        Judgement judgement = new Judgement(difference, rule, DecisionRule.Asks.UNSIGNED);
        Map<String, String> subject = subject(pair, cell);
        Optional<SideBySide.Apart> apart = apart(pair, cell);
        compared.add(new SideBySide.Compared(
                cell,
                MachinePair.like(cell, pair.second()),
                difference.estimate(),
                difference.dataOnly(),
                difference.restsOnAssumption(),
                apart));
        String verdict = judgement
                .verdict()
                .fold(
                        w -> ": here they mow alike.",
                        b -> ": here " + tighter(pair, difference.estimate()) + " mows tighter.",
                        c -> ": this trial cannot tell yet.",
                        n -> "");
        List<Part> parts = new ArrayList<>();
        apart.ifPresent(a -> {
            parts.add(part("chassis", a.parts().chassis()));
            parts.add(part("deckReach", a.parts().deckReach()));
        });
        return finding(
                subject,
                judgement,
                difference,
                parts,
                names(pair) + ", " + cell.turn().word() + " turn in " + Wording.condition(cell) + ": "
                        + compared(pair, "a circle", difference, judgement.verdict())
                        + verdict
                        + apart.map(a -> takenApart(pair, a)).orElse(""),
                remark,
                next(judgement.verdict()));
    }

    private String compared(MachinePair pair, String what, MachinePair.Contrast difference, Verdict verdict) {
        Estimate d = difference.estimate();
        return id(pair.second()) + " leaves " + what + " " + wording.amount(d)
                + (d.value() < 0 ? " smaller, " : " larger, ")
                + wording.towards(d)
                + "; that "
                + verdict.<String>fold(w -> "is within ", b -> "is beyond ", c -> "may lie on either side of ", n -> "")
                + "the practical margin of " + wording.amount(rule.margin())
                + (verdict.decided() ? Wording.surely(verdict.probability()) : "");
    }

    private String takenApart(MachinePair pair, SideBySide.Apart apart) {
        double radius = apart.parts().turnRadius().value();
        return " Taken apart (plus: larger with " + id(pair.second()) + "), the chassis makes "
                + wording.signed(apart.chassis()) + " of it, "
                + range(apart.chassis()) + ", its turn radius being "
                + wording.amount(radius)
                + (radius < 0 ? " smaller" : " larger")
                + ", and the reach of the deck makes "
                + wording.signed(apart.deckReach()) + ", "
                + range(apart.deckReach()) + ".";
    }

    private String range(Estimate estimate) {
        return wording.range(estimate.low(), estimate.high());
    }

    private static Part part(String name, Quantity quantity) {
        return new Part(name, quantity.value(), quantity.standardUncertainty());
    }

    private static String tighter(MachinePair pair, Estimate difference) {
        return id(difference.value() > 0 ? pair.first() : pair.second());
    }

    private Optional<SideBySide.Apart> apart(MachinePair pair, Cell cell) {
        Optional<DeckModel> model = DeckModel.of(pair.first().machine(), cell.drive());
        Optional<DeckModel> other = DeckModel.of(pair.second().machine(), cell.drive());
        if (model.isEmpty() || other.isEmpty()) {
            return Optional.empty();
        }
        int side = cell.turn().sign();
        Optional<MachinePair.Contrast> reach = pair.propagate(
                cell, model.get(), other.get(), (d, deck, e, otherDeck) -> reach(d, deck, e, otherDeck, side));
        Optional<MachinePair.Contrast> chassis =
                pair.propagate(cell, model.get(), other.get(), (d, deck, e, otherDeck) -> {
                    OptionalDouble decks = reach(d, deck, e, otherDeck, side);
                    return decks.isPresent() ? OptionalDouble.of(e - d - decks.getAsDouble()) : decks;
                });
        Optional<MachinePair.Contrast> radius =
                pair.propagate(cell, model.get(), other.get(), (d, deck, e, otherDeck) -> {
                    OptionalDouble r = deck.turnRadius(d, side);
                    OptionalDouble q = otherDeck.turnRadius(e, side);
                    return r.isPresent() && q.isPresent() ? OptionalDouble.of(q.getAsDouble() - r.getAsDouble()) : r;
                });
        if (reach.isEmpty() || chassis.isEmpty() || radius.isEmpty()) {
            return Optional.empty();
        }
        Deck deck = model.get().deck();
        Deck otherDeck = other.get().deck();
        Cell opposite = MachinePair.like(cell, pair.second());
        return Optional.of(new SideBySide.Apart(
                new SideBySide.Apart.Parts(chassis.get(), reach.get(), radius.get()),
                deck,
                otherDeck,
                deck.turnRadius(pair.first().mean(cell), side).orElseThrow(),
                otherDeck.turnRadius(pair.second().mean(opposite), side).orElseThrow()));
    }

    /** D_other(R̄) − D_machine(R̄) at the mean of the two turn radii. */
    private static OptionalDouble reach(double d, Deck deck, double e, Deck otherDeck, int side) {
        OptionalDouble r = deck.turnRadius(d, side);
        OptionalDouble q = otherDeck.turnRadius(e, side);
        if (r.isEmpty() || q.isEmpty()) {
            return OptionalDouble.empty();
        }
        double mean = (r.getAsDouble() + q.getAsDouble()) / 2;
        return OptionalDouble.of(otherDeck.uncutDiameter(mean, side) - deck.uncutDiameter(mean, side));
    }

    /** The cells of a machine, without brakes, that all machines have. */
    private List<Cell> everywhere(MachineEstimate machine) {
        return withoutBrakes(machine.cells()).stream()
                .filter(c -> machines.stream().allMatch(m -> m.has(MachinePair.like(c, m))))
                .toList();
    }

    /**
     * Places by the mean diameter over the cells all machines have. Of the parts that tape, eye and method put on all of
     * them only what is not alike changes a place; it is spread over the machines so that two keep exactly the variance of
     * their difference, and more of them keep it on average over all pairs.
     */
    private List<SideBySide.Standing> ranking(List<MachineEstimate> ordered, List<Cell> cells) {
        if (cells.isEmpty()) {
            return List.of();
        }
        List<double[]> means = ordered.stream()
                .map(m -> m.coefficients(
                        cells.stream().collect(Collectors.toMap(c -> MachinePair.like(c, m), c -> 1.0 / cells.size()))))
                .toList();
        int n = ordered.size();
        SharedParts common = SharedParts.NONE;
        for (int i = 0; i < n; i++) {
            common = common.plus(ordered.get(i).shared(means.get(i)), 1.0 / n);
        }
        List<NormalMixture> own = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            double unlike = ordered.get(i).shared(means.get(i)).plus(common, -1).variance() * n / (n - 1);
            own.add(ordered.get(i).posterior().contrast(means.get(i), 0, unlike).condensed());
        }
        double[][] places = Ranking.probabilities(own);
        List<SideBySide.Standing> standings = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            standings.add(new SideBySide.Standing(
                    id(ordered.get(i)),
                    ordered.get(i).contrast(means.get(i), 0, 0).estimate(),
                    Arrays.stream(places[i]).boxed().toList()));
        }
        standings.sort(Comparator.comparingDouble(s -> s.diameter().value()));
        return standings;
    }

    private List<SideBySide.Headland> headland(List<MachineEstimate> ordered) {
        List<SideBySide.Headland> result = new ArrayList<>();
        for (MachineEstimate machine : ordered) {
            for (Drive drive : Drive.values()) {
                Cell left = new Cell(id(machine), Turn.LEFT, drive, Brakes.NONE);
                Cell right = new Cell(id(machine), Turn.RIGHT, drive, Brakes.NONE);
                if (machine.has(left) && machine.has(right)) {
                    Quantity difference = machine.contrast(Map.of(left, -1.0, right, 1.0));
                    Verdict verdict = new Judgement(difference, rule, DecisionRule.Asks.UNSIGNED).verdict();
                    Optional<Turn> tighter = verdict.fold(
                            w -> Optional.empty(),
                            b -> Optional.of(difference.estimate().value() > 0 ? Turn.LEFT : Turn.RIGHT),
                            c -> Optional.empty(),
                            n -> Optional.empty());
                    result.add(new SideBySide.Headland(id(machine), drive, tighter, difference.estimate(), verdict));
                }
            }
        }
        return result;
    }

    private List<SideBySide.Uncut> uncut() {
        double speed = asked.trial()
                .conditions()
                .mowingSpeed()
                .orElse(Conditions.ASSUMED_MOWING_SPEED)
                .metresPerSecond();
        List<SideBySide.Uncut> result = new ArrayList<>();
        for (MachineEstimate machine : machines) {
            for (Cell cell : machine.cells()) {
                SideBySide.Area area =
                        SideBySide.Area.of(machine.contrast(Map.of(cell, 1.0)).estimate());
                result.add(new SideBySide.Uncut(
                        cell,
                        area,
                        DeckModel.of(machine.machine(), cell.drive())
                                .map(model -> model.deck().cuttingWidth())
                                .map(width -> new SideBySide.Mowing(width, area.value() / (width * speed)))));
            }
        }
        return result;
    }

    private static String id(MachineEstimate machine) {
        return machine.machine().id();
    }

    private static String names(MachinePair pair) {
        return id(pair.first()) + " and " + id(pair.second());
    }

    private static Map<String, String> subject(MachinePair pair) {
        Map<String, String> subject = new LinkedHashMap<>();
        subject.put("machine", id(pair.first()));
        subject.put("other", id(pair.second()));
        return subject;
    }

    private static Map<String, String> onTheWhole(MachinePair pair) {
        Map<String, String> subject = subject(pair);
        subject.put("turn", "all");
        subject.put("drive", "all");
        return subject;
    }

    private static Map<String, String> subject(MachinePair pair, Cell cell) {
        Map<String, String> subject = subject(pair);
        subject.put("turn", cell.turn().word());
        subject.put("drive", cell.drive().word());
        if (cell.brakes() == Brakes.USED) {
            subject.put("brakes", cell.brakes().word());
        }
        return subject;
    }

    /** The unmet points, where the figure is. */
    private String fairnessRemark() {
        return listed(" Not met of the fairness list: ", FairnessPoint.Status.NOT_MET)
                + listed(" Not stated: ", FairnessPoint.Status.NOT_STATED);
    }

    private String listed(String lead, FairnessPoint.Status status) {
        String titles = fairness.stream()
                .filter(p -> p.status() == status)
                .map(FairnessPoint::title)
                .collect(Collectors.joining(", "));
        return titles.isEmpty() ? "" : lead + titles + ".";
    }

    private Finding finding(
            Map<String, String> subject,
            Judgement judgement,
            Quantity quantity,
            List<Part> parts,
            String sentence,
            String remark,
            String next) {
        return Finding.judged(
                Question.SIDE_BY_SIDE, subject, judgement, quantity, rule, parts, wording, sentence, remark, next);
    }

    private String next(Verdict verdict) {
        boolean unmet = fairness.stream().anyMatch(p -> p.status() == FairnessPoint.Status.NOT_MET);
        return verdict.fold(
                w -> "Choose between them by something other than tightness.",
                b -> unmet
                        ? "Before this is held against a machine, mend what the fairness list says is not met and mow both"
                                + " again. Stops only by the service manual; a qualified technician has the last word."
                        : "Say turn and drive with the figure, and show the fairness list beside it.",
                c -> wording.outlookByMachine(c.outlook()),
                n -> "");
    }

    private Finding notPossible(MachinePair pair) {
        List<String> missing = pair.first().cells().stream()
                .map(c -> "a circle of " + id(pair.second()) + " to the "
                        + c.turn().word() + " in " + Wording.condition(c))
                .toList();
        return Finding.notPossible(
                Question.SIDE_BY_SIDE,
                subject(pair),
                missing,
                rule,
                List.of(),
                true,
                names(pair)
                        + ": they cannot be compared yet, because they were driven in no turn and drive alike. Missing: "
                        + String.join("; or ", missing) + ".",
                "Drive and measure it, then compare again.");
    }
}
