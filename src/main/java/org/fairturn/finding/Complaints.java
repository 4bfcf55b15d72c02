package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.function.Supplier;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.fairturn.finding.Complaint.Kind;
import org.fairturn.finding.ComplaintModel.Deviation;
import org.fairturn.finding.ComplaintModel.Variant;
import org.fairturn.finding.ComplaintWords.Pattern;
import org.fairturn.finding.ComplaintWords.Seen;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.trial.Reference;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.CauseRanking;
import org.fairturn.uncertainty.CauseRanking.Influence;
import org.fairturn.uncertainty.RepeatabilityPosterior;
import org.fairturn.units.Length;

/**
 * A machine is complained of: is it off its reference, and what is most probably behind it?
 *
 * <p>Each machine is held against each source of its reference by itself. A cause is named only where its probability reaches
 * the trial's confidence.
 */
final class Complaints {
    /** Standard uncertainty of a specified deck offset, where none is stated. Our own choice. */
    static final Length SPECIFIED = Length.mm(3);
    /** Widths levels of repeatability are drawn together to: for one machine, and for each of two. */
    private static final double ONE = 0.3;

    private static final double EACH_OF_TWO = 0.6;
    private static final double CARRIES_NOTHING = 1e-8;

    /** What complaints come to. */
    record Answers(List<Complaint> complaints, List<Answer<Asked>> answers) {}

    /**
     * A machine and what it is held against, as far as both have the same cells.
     *
     * @param quantities of the reference in each of them
     * @param knownGood the machine that is the reference, where one is
     * @param covered whether the reference speaks of a cell, left out or not
     */
    private record Held(
            MachineEstimate machine,
            List<Cell> cells,
            List<Double> references,
            List<Boolean> workedOut,
            List<Claim.Quantity> quantities,
            Optional<String> knownGood,
            Predicate<Cell> covered,
            Function<Map<Cell, Double>, Quantity> excess,
            Supplier<ComplaintModel> model) {
        Quantity mean(Predicate<Cell> of) {
            List<Cell> chosen = cells.stream().filter(of).toList();
            return excess.apply(chosen.stream().collect(Collectors.toMap(c -> c, c -> 1.0 / chosen.size())));
        }
    }

    private final Asked asked;
    private final Trial trial;
    private final DecisionRule rule;
    private final ComplaintWords words;
    private final Wording wording;
    private final List<Complaint> complaints = new ArrayList<>();
    private final List<Answer<Asked>> answers = new ArrayList<>();

    private Complaints(Asked asked) {
        this.asked = asked;
        this.trial = asked.trial();
        this.rule = asked.rule();
        this.wording = asked.wording();
        this.words = new ComplaintWords(rule, wording);
    }

    static Answers of(Asked asked) {
        Complaints all = new Complaints(asked);
        asked.trial().references().stream()
                .collect(Collectors.groupingBy(
                        r -> List.of(r.machine(), r.source()), LinkedHashMap::new, Collectors.toList()))
                .values()
                .forEach(all::complaint);
        return new Answers(List.copyOf(all.complaints), List.copyOf(all.answers));
    }

    private void complaint(List<Reference> rows) {
        String id = rows.get(0).machine();
        String source = rows.get(0).source();
        List<String> missing = new ArrayList<>();
        for (String driven : machines(rows)) {
            if (asked.machine(driven).isEmpty()) {
                missing.add("a circle of " + driven);
            }
        }
        Optional<Held> held = held(rows, asked);
        if (held.isPresent()) {
            answer(rows, held.get());
            return;
        }
        if (missing.isEmpty()) {
            missing.addAll(missing(rows));
        }
        answers.add(Answer.open(
                notPossible(id, source, missing, rows.stream().anyMatch(r -> missing.contains(words.tooSmall(r))))));
    }

    /** The machine complained of and, where that is its reference, the one known to be good. */
    private static Set<String> machines(List<Reference> rows) {
        Set<String> machines = new LinkedHashSet<>();
        machines.add(rows.get(0).machine());
        rows.get(0).knownGood().ifPresent(machines::add);
        return machines;
    }

    private Optional<Held> held(List<Reference> rows, Asked from) {
        Optional<String> knownGood = rows.get(0).knownGood();
        return from.machine(rows.get(0).machine())
                .flatMap(machine -> knownGood.isPresent()
                        ? from.machine(knownGood.get()).flatMap(good -> held(rows, machine, good))
                        : held(rows, machine));
    }

    /** A finding on some cells of what is held, and how the same is asked again. */
    private Answer<Asked> answer(Finding finding, List<Reference> rows, Predicate<Cell> of) {
        return new Answer<>(
                finding,
                machines(rows),
                changed -> held(rows, changed)
                        .filter(held -> held.cells().stream().anyMatch(of))
                        .map(held -> held.mean(of).then(rule, DecisionRule.Asks.SIGNED)));
    }

    private List<String> missing(List<Reference> rows) {
        Machine machine = trial.machine(rows.get(0).machine()).orElseThrow();
        List<String> missing = new ArrayList<>();
        if (rows.get(0).value().isPresent()) {
            missing.addAll(new ReferenceFigures(rows, machine).missing());
        }
        if (missing.isEmpty()) {
            rows.forEach(r -> missing.add(
                    isOfADrivenCell(r)
                            ? words.tooSmall(r)
                            : "a circle of "
                                    + r.knownGood()
                                            .map(k -> "both " + machine.id() + " and " + k)
                                            .orElse(machine.id())
                                    + r.turn().map(t -> " to the " + t.word()).orElse("")
                                    + r.drive().map(d -> " in " + d.word()).orElse("")
                                    + (r.brakes() == Brakes.USED ? " with brakes" : "")));
        }
        return missing;
    }

    private static boolean covers(Reference row, Cell cell) {
        return row.covers(cell.turn(), cell.drive(), cell.brakes());
    }

    /** Whether a figure that nothing came of is one this machine cannot turn: what it is of was driven. */
    private boolean isOfADrivenCell(Reference row) {
        return row.value().isPresent()
                && asked.machine(row.machine())
                        .filter(m -> m.cells().stream().anyMatch(c -> covers(row, c)))
                        .isPresent();
    }

    private Finding notPossible(String id, String source, List<String> missing, boolean figure) {
        return Finding.notPossible(
                Question.COMPLAINT,
                subject(id, source),
                missing,
                rule,
                List.of(),
                true,
                words.notPossible(id, source, missing),
                figure
                        ? "Ask how the figure was come by, mend it in references.csv, then compare again."
                        : "Measure what is missing or write it down, then compare again.");
    }

    private static Map<String, String> subject(String machine, String source) {
        Map<String, String> subject = new LinkedHashMap<>();
        subject.put("machine", machine);
        subject.put("reference", source);
        return subject;
    }

    private static Map<String, String> subject(Cell cell, String source) {
        Map<String, String> subject = new LinkedHashMap<>();
        subject.put("machine", cell.machine());
        subject.put("turn", cell.turn().word());
        subject.put("drive", cell.drive().word());
        if (cell.brakes() == Brakes.USED) {
            subject.put("brakes", cell.brakes().word());
        }
        subject.put("reference", source);
        return subject;
    }

    /** The machine with its deck where the manual puts it; as it is, where that is not known. */
    private static Machine asSpecified(Machine machine) {
        if (machine.specifiedDeckOffset().isEmpty() || machine.blades().isEmpty()) {
            return machine;
        }
        Measured offset = machine.specifiedDeckOffset().get();
        double by = offset.value().metres()
                - DeckModel.of(machine, Drive.TWO_WHEEL).orElseThrow().deck().offset();
        return machine.withDeckMoved(
                Optional.of(new Measured(offset.value(), Optional.of(offset.uncertaintyOr(SPECIFIED)))), by);
    }

    /** Where a machine's deck was measured to sit. */
    private static Optional<Deviation> offset(Machine machine) {
        return DeckModel.of(machine, Drive.TWO_WHEEL)
                .map(m -> m.deck().offset())
                .or(() -> machine.deckOffset().map(m -> m.value().metres()))
                .map(offset -> new Deviation(offset, DeckModel.lateral(machine)));
    }

    private static Optional<Deviation> specified(Machine machine) {
        return machine.specifiedDeckOffset()
                .map(m -> new Deviation(
                        m.value().metres(), m.uncertaintyOr(SPECIFIED).metres()));
    }

    /** Both may be stated as known exactly, which no tape knows them. */
    private static Optional<Deviation> off(Optional<Deviation> measured, Optional<Deviation> by) {
        return measured.flatMap(m -> by.map(b -> new Deviation(
                m.value() - b.value(),
                Math.max(MachineEstimate.RESOLUTION, Math.hypot(m.standardUncertainty(), b.standardUncertainty())))));
    }

    private static double deckCheck(Machine machine) {
        return Math.hypot(
                DeckModel.LATERAL.metres(),
                specified(machine).map(Deviation::standardUncertainty).orElse(SPECIFIED.metres()));
    }

    /** Against figures. */
    private Optional<Held> held(List<Reference> rows, MachineEstimate estimate) {
        Machine machine = asSpecified(estimate.machine());
        ReferenceFigures figures = new ReferenceFigures(rows, machine);
        List<Cell> cells =
                estimate.cells().stream().filter(c -> figures.of(c).isPresent()).toList();
        if (cells.isEmpty()) {
            return Optional.empty();
        }
        List<ReferenceFigures.Figure> base =
                cells.stream().map(c -> figures.of(c).orElseThrow()).toList();
        List<Double> references =
                base.stream().map(ReferenceFigures.Figure::diameter).toList();
        double tapeAndEye = Math.sqrt(
                cells.stream().mapToDouble(estimate::sharedVariance).average().orElseThrow());
        List<Influence> asStated = ReferenceFigures.influences(base, tapeAndEye);
        Supplier<ComplaintModel> model = () -> new ComplaintModel(
                new CauseSlopes(machine, cells, references),
                shared(cells, c -> shared(estimate, c)),
                asStated,
                variants(figures, base, tapeAndEye),
                levels(cells, estimate, references),
                off(offset(estimate.machine()), specified(estimate.machine())),
                deckCheck(machine),
                rule.margin());
        return Optional.of(new Held(
                estimate,
                cells,
                references,
                base.stream().map(ReferenceFigures.Figure::workedOut).toList(),
                base.stream().map(f -> f.row().quantity()).toList(),
                Optional.empty(),
                cell -> rows.stream().anyMatch(r -> covers(r, cell)),
                weights -> excess(estimate, cells, references, asStated, weights),
                model));
    }

    private static Quantity excess(
            MachineEstimate estimate,
            List<Cell> cells,
            List<Double> references,
            List<Influence> asStated,
            Map<Cell, Double> weights) {
        double offset = 0;
        for (int k = 0; k < cells.size(); k++) {
            offset -= weights.getOrDefault(cells.get(k), 0.0) * references.get(k);
        }
        double variance = 0;
        double newCircles = 0;
        for (Influence influence : asStated) {
            double loading = 0;
            for (int k = 0; k < cells.size(); k++) {
                loading += weights.getOrDefault(cells.get(k), 0.0)
                        * influence.loadings().get(k);
            }
            variance += influence.variance() * loading * loading;
            newCircles += influence.newCircles() * loading * loading;
        }
        return estimate.contrast(estimate.coefficients(weights), offset, variance, newCircles);
    }

    private static SharedParts shared(MachineEstimate estimate, Cell cell) {
        return estimate.shared(estimate.coefficients(Map.of(cell, 1.0)));
    }

    /** What tape, eye and method put on all cells together. */
    private static List<Influence> shared(List<Cell> cells, Function<Cell, SharedParts> of) {
        List<ToDoubleFunction<SharedParts>> parts =
                List.of(SharedParts::tape, SharedParts::edge, SharedParts::missedCentre);
        return parts.stream()
                .map(part -> new Influence(
                        1,
                        0,
                        cells.stream().map(c -> part.applyAsDouble(of.apply(c))).toList()))
                .toList();
    }

    /** Other ways to read the figures: each is left out where it cannot be worked out or makes no difference that matters. */
    private List<Variant> variants(ReferenceFigures figures, List<ReferenceFigures.Figure> base, double tapeAndEye) {
        List<Variant> variants = new ArrayList<>();
        variant(
                        Kind.DIRECTION,
                        "the reference's left and right being each other's",
                        figures.withTurnsExchanged(),
                        base,
                        tapeAndEye)
                .ifPresent(variants::add);
        figures.quantity().ifPresent(stated -> {
            for (Claim.Quantity quantity : Claim.Quantity.values()) {
                // a radius taken for a diameter, and a diameter taken for a radius
                boolean radius = quantity == Claim.Quantity.TURN_RADIUS;
                String half = radius ? "turn diameter" : quantity.word().replace("diameter", "radius");
                if (quantity != stated) {
                    convention(quantity.word(), figures.takenFor(quantity, 1), base, tapeAndEye)
                            .ifPresent(variants::add);
                }
                convention(half, figures.takenFor(quantity, radius ? 0.5 : 2), base, tapeAndEye)
                        .ifPresent(variants::add);
            }
        });
        return variants;
    }

    private Optional<Variant> convention(
            String quantity, ReferenceFigures figures, List<ReferenceFigures.Figure> base, double tapeAndEye) {
        return variant(
                Kind.CONVENTION, "the reference really being of a" + article(quantity), figures, base, tapeAndEye);
    }

    private static String article(String noun) {
        return (noun.startsWith("u") ? "n " : " ") + noun;
    }

    private Optional<Variant> variant(
            Kind kind, String name, ReferenceFigures otherwise, List<ReferenceFigures.Figure> base, double tapeAndEye) {
        List<ReferenceFigures.Figure> read =
                base.stream().flatMap(f -> otherwise.of(f.cell()).stream()).toList();
        if (read.size() < base.size()) {
            return Optional.empty();
        }
        List<Double> expected = IntStream.range(0, base.size())
                .mapToObj(k -> read.get(k).diameter() - base.get(k).diameter())
                .toList();
        return expected.stream().anyMatch(e -> Math.abs(e) > rule.margin())
                ? Optional.of(new Variant(kind, name, expected, ReferenceFigures.influences(read, tapeAndEye)))
                : Optional.empty();
    }

    /** Against another machine. */
    private Optional<Held> held(List<Reference> rows, MachineEstimate estimate, MachineEstimate good) {
        List<Cell> cells = estimate.cells().stream()
                .filter(c ->
                        good.has(MachinePair.like(c, good)) && rows.stream().anyMatch(r -> covers(r, c)))
                .toList();
        if (cells.isEmpty()) {
            return Optional.empty();
        }
        List<Double> references =
                cells.stream().map(c -> good.mean(MachinePair.like(c, good))).toList();
        MachinePair pair = new MachinePair(good, estimate, rule.confidence());
        Machine machine = asSpecified(estimate.machine());
        Optional<Deviation> byTheOther = off(offset(estimate.machine()), offset(good.machine()));
        Supplier<ComplaintModel> model = () -> new ComplaintModel(
                new CauseSlopes(machine, cells, references),
                shared(cells, c -> shared(estimate, c).plus(shared(good, MachinePair.like(c, good)), -1)),
                List.of(),
                List.of(),
                levels(cells, estimate, good),
                byTheOther.isPresent() ? byTheOther : off(offset(estimate.machine()), specified(estimate.machine())),
                deckCheck(machine),
                rule.margin());
        return Optional.of(new Held(
                estimate,
                cells,
                references,
                cells.stream().map(c -> false).toList(),
                cells.stream().map(c -> Claim.Quantity.UNCUT_DIAMETER).toList(),
                Optional.of(good.machine().id()),
                cell -> rows.stream().anyMatch(r -> covers(r, cell)),
                weights -> pair.difference(weights.entrySet().stream()
                        .collect(Collectors.toMap(e -> MachinePair.like(e.getKey(), good), Map.Entry::getValue))),
                model));
    }

    private static List<CauseRanking.Level> levels(
            List<Cell> cells, MachineEstimate estimate, List<Double> references) {
        List<Integer> places = cells.stream().map(estimate.cells()::indexOf).toList();
        List<CauseRanking.Level> levels = new ArrayList<>();
        for (RepeatabilityPosterior.CellsAt at : estimate.posterior().cellsAt(ONE)) {
            levels.add(new CauseRanking.Level(
                    at.weight(),
                    IntStream.range(0, cells.size())
                            .mapToObj(k -> at.means().get(places.get(k)) - references.get(k))
                            .toList(),
                    places.stream().map(at.variances()::get).toList(),
                    at.newCircle()));
        }
        return levels;
    }

    private static List<CauseRanking.Level> levels(List<Cell> cells, MachineEstimate estimate, MachineEstimate good) {
        List<Integer> own = cells.stream().map(estimate.cells()::indexOf).toList();
        List<Integer> other = cells.stream()
                .map(c -> good.cells().indexOf(MachinePair.like(c, good)))
                .toList();
        List<CauseRanking.Level> levels = new ArrayList<>();
        for (RepeatabilityPosterior.CellsAt a : estimate.posterior().cellsAt(EACH_OF_TWO)) {
            for (RepeatabilityPosterior.CellsAt b : good.posterior().cellsAt(EACH_OF_TWO)) {
                if (a.weight() * b.weight() > CARRIES_NOTHING) {
                    levels.add(new CauseRanking.Level(
                            a.weight() * b.weight(),
                            IntStream.range(0, cells.size())
                                    .mapToObj(k -> a.means().get(own.get(k))
                                            - b.means().get(other.get(k)))
                                    .toList(),
                            IntStream.range(0, cells.size())
                                    .mapToObj(k -> a.variances().get(own.get(k))
                                            + b.variances().get(other.get(k)))
                                    .toList(),
                            a.newCircle()));
                }
            }
        }
        levels.sort(Comparator.comparing(CauseRanking.Level::newCircle)); // neighbours are drawn together later
        return levels;
    }

    private void answer(List<Reference> rows, Held held) {
        String source = rows.get(0).source();
        Machine machine = held.machine().machine();
        ComplaintModel model = held.model().get();
        Pattern pattern = pattern(held);
        List<ComplaintModel.Ranked> ranked = model.causes();
        List<Double> singles = ranked.stream()
                .filter(r -> r.kind() != Kind.OTHER)
                .map(ComplaintModel.Ranked::probability)
                .toList();
        List<Complaint.Cause> causes = ranked.stream()
                .map(r -> {
                    ComplaintWords.Evidence evidence = words.evidence(r, model, pattern, singles);
                    return new Complaint.Cause(
                            r.kind(),
                            r.name(),
                            r.prior(),
                            r.probability(),
                            r.effects(),
                            words.size(r, model),
                            evidence.speaksFor(),
                            evidence.against());
                })
                .toList();
        List<Complaint.Compared> compared = new ArrayList<>();
        List<Answer<Asked>> single = new ArrayList<>();
        for (int k = 0; k < held.cells().size(); k++) {
            Cell cell = held.cells().get(k);
            Quantity q = held.mean(cell::equals);
            compared.add(new Complaint.Compared(
                    cell, held.references().get(k), held.workedOut().get(k), q.estimate()));
            Claim.Quantity quantity = held.quantities().get(k);
            boolean workedOut = held.workedOut().get(k);
            Finding finding = single(
                    source,
                    compared.get(k),
                    q,
                    outlook -> held.knownGood()
                            .map(good -> wording.outlookByMachine(
                                    outlook, ComplaintWords.hangsOnCirclesOf(good, machine.id())))
                            .orElseGet(() -> wording.outlook(outlook, ComplaintWords.hangsOn(quantity, workedOut))));
            single.add(answer(finding, rows, cell::equals));
        }
        Complaint complaint =
                new Complaint(machine.id(), source, subject(machine.id(), source), compared, causes, model.checks());
        complaints.add(complaint);
        answers.add(answer(onTheWhole(complaint, held, model.slopes()), rows, c -> true));
        answers.addAll(single);
    }

    private static Pattern pattern(Held held) {
        Map<Turn, Seen> turns = new EnumMap<>(Turn.class);
        for (Turn turn : Turn.values()) {
            if (held.cells().stream().anyMatch(c -> c.turn() == turn)) {
                turns.put(turn, Seen.of(held.mean(c -> c.turn() == turn)));
            }
        }
        boolean twoWheel = held.cells().stream().anyMatch(c -> c.drive() == Drive.TWO_WHEEL);
        Map<Cell, Double> frontAxle = new LinkedHashMap<>();
        for (Cell four : held.cells()) {
            Cell two = new Cell(four.machine(), four.turn(), Drive.TWO_WHEEL, four.brakes());
            if (four.drive() == Drive.FOUR_WHEEL && held.cells().contains(two)) {
                frontAxle.put(four, 1.0);
                frontAxle.put(two, -1.0);
            }
        }
        frontAxle.replaceAll((cell, weight) -> 2 * weight / frontAxle.size());
        return new Pattern(
                turns,
                twoWheel ? Optional.of(Seen.of(held.mean(c -> c.drive() == Drive.TWO_WHEEL))) : Optional.empty(),
                frontAxle.isEmpty()
                        ? Optional.empty()
                        : Optional.of(Seen.of(held.excess().apply(frontAxle))),
                held.cells().stream().map(c -> Seen.of(held.mean(c::equals))).toList());
    }

    private Finding single(
            String source, Complaint.Compared compared, Quantity q, Function<Outlook, String> whatWouldSettleIt) {
        Cell cell = compared.cell();
        Judgement judgement = new Judgement(q, rule, DecisionRule.Asks.SIGNED);
        return Finding.judged(
                Question.COMPLAINT,
                subject(cell, source),
                judgement,
                q,
                rule,
                List.of(),
                wording,
                words.cell(compared, source, judgement.verdict()),
                "",
                judgement
                        .verdict()
                        .fold(
                                w -> "Nothing to set right here.",
                                b -> "See what is most probably behind it, above.",
                                c -> whatWouldSettleIt.apply(c.outlook()),
                                n -> ""));
    }

    private Finding onTheWhole(Complaint complaint, Held held, CauseSlopes slopes) {
        Quantity q = held.mean(c -> true);
        Judgement judgement = new Judgement(q, rule, DecisionRule.Asks.SIGNED);
        Map<Boolean, List<String>> leftOut = held.machine().cells().stream()
                .filter(c -> !held.cells().contains(c))
                .collect(Collectors.partitioningBy(
                        held.covered(), Collectors.mapping(ClaimWords::reading, Collectors.toList())));
        return Finding.judged(
                Question.COMPLAINT,
                complaint.subject(),
                judgement,
                q,
                rule,
                List.of(),
                wording,
                words.sentence(
                        complaint,
                        slopes,
                        q.estimate(),
                        judgement.verdict(),
                        held.knownGood(),
                        leftOut.get(true),
                        leftOut.get(false)),
                "",
                words.next(complaint, slopes));
    }
}
