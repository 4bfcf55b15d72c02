package org.fairturn.finding;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.DoubleBinaryOperator;
import java.util.function.DoubleUnaryOperator;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;

/**
 * Is the difference between the right and the left circle more than the deck offset explains?
 *
 * <p>The measured discs give a turn radius each, R_left and R_right. At their mean R̄ the deck alone makes
 * D_right(R̄) − D_left(R̄); designed lock angles that differ by ΔR make
 * D_right(R̄ + ΔR/2) − D_right(R̄) + D_left(R̄) − D_left(R̄ − ΔR/2), and steering stops off their specification make what
 * their own ΔR adds to that. What is left of the measured difference is the remainder.
 * The parts add up exactly; the taking apart is our own derivation.
 */
final class LeftRight {
    /** The rule of thumb: each inch of deck offset makes four inches between the circles. Common practice, no source. */
    private static final double RULE_OF_THUMB = 4;
    /**
     * Where only the rule of thumb can be used, the standard uncertainty of what it explains, as a part of it. The true
     * factor 2(cos φ_left + cos φ_right) lies between about 2.5 and 4 for decks under compact tractors.
     */
    private static final double RULE_OF_THUMB_UNCERTAINTY = 0.25;

    private static final String STOPS = "steeringStops";

    /** What is less than this (m) is 0 in a sentence, which shows whole millimetres. */
    private static final double SHOWS = 0.0005;

    private final MachineEstimate estimate;
    private final Machine machine;
    private final Cell left;
    private final Cell right;
    private final SteeringStops stops;
    private final SteeringStops.Driven stopped;
    private final DecisionRule rule;
    private final Wording wording;

    private LeftRight(
            MachineEstimate estimate, Machine machine, Drive drive, Brakes brakes, DecisionRule rule, Wording wording) {
        this.estimate = estimate;
        this.machine = machine;
        this.left = new Cell(machine.id(), Turn.LEFT, drive, brakes);
        this.right = new Cell(machine.id(), Turn.RIGHT, drive, brakes);
        this.stops = new SteeringStops(machine, Optional.of(estimate));
        this.stopped = stops.driven();
        this.rule = rule;
        this.wording = wording;
    }

    /** The answer for one machine in one drive, of which at least one turn was measured. */
    static Asymmetry of(MachineEstimate estimate, Drive drive, Brakes brakes, DecisionRule rule, Wording wording) {
        return new LeftRight(estimate, estimate.machine(), drive, brakes, rule, wording).answer();
    }

    /** The same as a quantity; empty where it cannot be had. */
    static Optional<MachineEstimate.Contrast> remainder(
            MachineEstimate estimate, Drive drive, Brakes brakes, DecisionRule rule, Wording wording) {
        return new LeftRight(estimate, estimate.machine(), drive, brakes, rule, wording).remainder();
    }

    private Optional<MachineEstimate.Contrast> remainder() {
        if (!estimate.has(left) || !estimate.has(right)) {
            return Optional.empty();
        }
        Optional<DeckModel> model = DeckModel.of(machine, left.drive());
        return model.isPresent()
                ? remainder(model.get()).map(Propagation::contrast)
                : machine.deckOffset().map(offset -> new RuleOfThumb(offset).remainder());
    }

    private Asymmetry answer() {
        if (!estimate.has(left) || !estimate.has(right)) {
            Cell missing = estimate.has(left) ? right : left;
            return notPossible(
                    Optional.empty(),
                    List.of("a circle to the " + missing.turn().word() + " in " + Wording.condition(missing)));
        }
        Difference measured = estimate.difference(left, right);
        Optional<DeckModel> model = DeckModel.of(machine, left.drive());
        if (model.isPresent()) {
            return remainder(model.get())
                    .map(remainder -> takenApart(measured, model.get(), remainder))
                    .orElseGet(() -> notPossible(
                            Optional.of(measured),
                            List.of(
                                    "blade positions and a turn centre shift that fit the circles: with those given, no turn"
                                            + " radius leaves so small a disc")));
        }
        if (machine.deckOffset().isPresent()) {
            return byRuleOfThumb(measured, new RuleOfThumb(machine.deckOffset().get()));
        }
        return notPossible(
                Optional.of(measured),
                List.of("the blade positions (blades.csv) or at least the deck offset (machines.csv)"));
    }

    private Optional<Propagation> remainder(DeckModel model) {
        double allDifference = designedDifference().orElse(0.0) + stopped.difference();
        return Propagation.of(
                estimate,
                List.of(left, right),
                model,
                (d, deck) -> {
                    OptionalDouble explained =
                            common(d, deck, r -> deck.offsetEffect(r) + lockEffect(deck, r, allDifference));
                    return explained.isPresent()
                            ? OptionalDouble.of(d[1] - d[0] - explained.getAsDouble())
                            : OptionalDouble.empty();
                },
                byStops(model.deck(), allDifference));
    }

    /** With each part by itself, and what the radii show of the deck. */
    private Asymmetry takenApart(Difference measured, DeckModel model, Propagation remainder) {
        Optional<Double> designed = designedDifference();
        double lockDifference = designed.orElse(0.0);
        double allDifference = lockDifference + stopped.difference();
        List<Cell> cells = List.of(left, right);
        // whatever has a remainder has all its parts: they go through the same two turn radii
        Propagation deckPart = Propagation.of(estimate, cells, model, (d, deck) -> common(d, deck, deck::offsetEffect))
                .orElseThrow();
        Propagation lockPart = Propagation.of(
                        estimate, cells, model, (d, deck) -> common(d, deck, r -> lockEffect(deck, r, lockDifference)))
                .orElseThrow();
        Propagation stopPart = Propagation.of(
                        estimate,
                        cells,
                        model,
                        (d, deck) -> common(
                                d, deck, r -> lockEffect(deck, r, allDifference) - lockEffect(deck, r, lockDifference)),
                        byStops(model.deck(), allDifference))
                .orElseThrow();
        Propagation equalising = Propagation.of(
                        estimate,
                        cells,
                        model,
                        (d, deck) -> radii(d, deck, (toLeft, toRight) -> deck.offset() + (toRight - toLeft) / 2))
                .orElseThrow();
        Deck deck = model.deck();
        double radiusLeft = deck.turnRadius(estimate.mean(left), 1).orElseThrow();
        double radiusRight = deck.turnRadius(estimate.mean(right), -1).orElseThrow();
        double commonRadius = (radiusLeft + radiusRight) / 2;
        Asymmetry.Geometry geometry = new Asymmetry.Geometry(
                deck,
                radiusLeft,
                radiusRight,
                commonRadius,
                equalising.value(),
                equalising.standardUncertainty(),
                remainder.contributions());
        List<Part> parts = new ArrayList<>();
        parts.add(measuredPart(measured));
        if (designed.isPresent()) {
            parts.add(new Part("lockAngles", lockPart.value(), lockPart.standardUncertainty()));
        }
        parts.add(new Part("deckOffset", deckPart.value(), deckPart.standardUncertainty()));
        if (stopped.radiusDifference().isPresent()) {
            parts.add(new Part(STOPS, stopPart.value(), stopPart.standardUncertainty()));
        }
        return answered(
                measured, remainder.contrast(), parts, Optional.of(geometry), RULE_OF_THUMB * deck.offset(), "");
    }

    /** What four times the deck offset and twice the turn radius make of it (m). */
    private final class RuleOfThumb {
        private final Rough deck;
        // without blades the slope dD/dR = 2·cos φ is not known either; 2 is its upper limit
        private final Rough locks;
        private final Rough byStops;

        RuleOfThumb(Measured offset) {
            deck = new Rough(
                    "deckOffset",
                    RULE_OF_THUMB * offset.value().metres(),
                    RULE_OF_THUMB * offset.uncertaintyOr(DeckModel.LATERAL).metres());
            locks = new Rough("lockAngles", 2 * designedDifference().orElse(0.0), 0);
            byStops = new Rough(
                    STOPS,
                    2 * stopped.difference(),
                    2
                            * Math.sqrt(stopped.contributions().stream()
                                    .mapToDouble(k -> k.effect() * k.effect())
                                    .sum()));
        }

        MachineEstimate.Contrast remainder() {
            double explained = 0;
            double variance = 0;
            for (Rough part : List.of(deck, locks, byStops)) {
                explained += part.value;
                variance += part.own * part.own;
            }
            // where the blades are is one thing that is not known, and scales all of it alike
            double rough = RULE_OF_THUMB_UNCERTAINTY * explained;
            return estimate.contrast(
                    estimate.coefficients(Map.of(left, -1.0, right, 1.0)), -explained, variance + rough * rough);
        }
    }

    /**
     * A part by the rule of thumb.
     *
     * @param value what it makes of the right circle less the left (m)
     * @param own its standard uncertainty were the rule exact (m)
     */
    private record Rough(String name, double value, double own) {
        Part part() {
            return new Part(name, value, Math.hypot(own, RULE_OF_THUMB_UNCERTAINTY * value));
        }
    }

    private Asymmetry byRuleOfThumb(Difference measured, RuleOfThumb explained) {
        List<Part> parts = new ArrayList<>();
        parts.add(measuredPart(measured));
        if (designedDifference().isPresent()) {
            parts.add(explained.locks.part());
        }
        parts.add(explained.deck.part());
        if (stopped.radiusDifference().isPresent()) {
            parts.add(explained.byStops.part());
        }
        return answered(
                measured,
                explained.remainder(),
                parts,
                Optional.empty(),
                explained.deck.value(),
                " The blade positions are not known, so the rule of thumb of four times the deck offset was used, with a"
                        + " wide uncertainty.");
    }

    /** What the uncertain dimensions of the steering put on the remainder through the stops. */
    private List<Contribution> byStops(Deck deck, double difference) {
        OptionalDouble radius = common(new double[] {estimate.mean(left), estimate.mean(right)}, deck, r -> r);
        return radius.isEmpty()
                ? List.of()
                : stopped.contributions().stream()
                        .map(c -> c.withEffect((lockEffect(deck, radius.getAsDouble(), difference - c.effect())
                                        - lockEffect(deck, radius.getAsDouble(), difference + c.effect()))
                                / 2))
                        .toList();
    }

    private Asymmetry answered(
            Difference measured,
            MachineEstimate.Contrast remainder,
            List<Part> parts,
            Optional<Asymmetry.Geometry> geometry,
            double ruleOfThumb,
            String remark) {
        Judgement judgement = new Judgement(remainder, rule, DecisionRule.Asks.UNSIGNED);
        Estimate rest = remainder.estimate();
        String remarks = remark
                + whatStopsDo(parts)
                + howStopsWereWorkedOut(parts)
                + (stopped.missing().isEmpty()
                        ? ""
                        : " What the steering stops make of it cannot be said; missing: "
                                + String.join("; ", stopped.missing()) + ".");
        Finding finding = Finding.judged(
                Question.LEFT_RIGHT,
                subject(),
                judgement,
                remainder,
                rule,
                parts,
                wording,
                sentence(measured, parts, rest, judgement.verdict()),
                remarks,
                next(judgement.verdict(), parts));
        return new Asymmetry(left, right, Optional.of(measured), geometry, Optional.of(ruleOfThumb), finding);
    }

    private Asymmetry notPossible(Optional<Difference> measured, List<String> missing) {
        Finding finding = Finding.notPossible(
                Question.LEFT_RIGHT,
                subject(),
                missing,
                rule,
                measured.map(m -> List.of(measuredPart(m))).orElse(List.of()),
                measured.map(Difference::restsOnAssumption).orElse(true),
                name() + ": "
                        + measured.map(m -> compared(m.estimate().value())
                                        + ", but whether the deck explains that cannot be said yet.")
                                .orElse("left and right cannot be compared yet.")
                        + " Missing: " + String.join("; ", missing) + ".",
                measured.isPresent()
                        ? "Measure for each blade how far its spindle lies ahead of the rear axle and left of the centreline,"
                                + " and the tip radius; blades disengaged, engine stopped, key out."
                        : "Drive and measure it, then compare again.");
        return new Asymmetry(left, right, measured, Optional.empty(), Optional.empty(), finding);
    }

    private Map<String, String> subject() {
        return subject(machine.id(), left.drive(), left.brakes());
    }

    static Map<String, String> subject(String machine, Drive drive, Brakes brakes) {
        Map<String, String> subject = new LinkedHashMap<>();
        subject.put("machine", machine);
        subject.put("drive", drive.word());
        if (brakes == Brakes.USED) {
            subject.put("brakes", brakes.word());
        }
        return subject;
    }

    private static Part measuredPart(Difference measured) {
        return new Part(
                "measured", measured.estimate().value(), measured.estimate().standardUncertainty());
    }

    /** A result at the mean of the two turn radii. */
    private static OptionalDouble common(double[] d, Deck deck, DoubleUnaryOperator result) {
        return radii(d, deck, (toLeft, toRight) -> result.applyAsDouble((toLeft + toRight) / 2));
    }

    /** A result of the two turn radii; empty where the deck leaves one of the circles at none. */
    private static OptionalDouble radii(double[] d, Deck deck, DoubleBinaryOperator result) {
        OptionalDouble toLeft = deck.turnRadius(d[0], 1);
        OptionalDouble toRight = deck.turnRadius(d[1], -1);
        return toLeft.isPresent() && toRight.isPresent()
                ? OptionalDouble.of(result.applyAsDouble(toLeft.getAsDouble(), toRight.getAsDouble()))
                : OptionalDouble.empty();
    }

    private static double lockEffect(Deck deck, double r, double lockDifference) {
        return deck.uncutDiameter(r + lockDifference / 2, -1)
                - deck.uncutDiameter(r, -1)
                + deck.uncutDiameter(r, 1)
                - deck.uncutDiameter(r - lockDifference / 2, 1);
    }

    /** R_right − R_left by the designed lock angles (m); empty where they are not both given. */
    private Optional<Double> designedDifference() {
        return DeckModel.designedRadius(machine, Turn.LEFT)
                .flatMap(l -> DeckModel.designedRadius(machine, Turn.RIGHT).map(r -> r - l));
    }

    private String name() {
        return machine.id() + ", " + Wording.condition(left);
    }

    private String compared(double difference) {
        return Math.abs(difference) < SHOWS
                ? "both circles are the same size"
                : "the right circle is " + wording.amount(difference) + (difference > 0 ? " larger" : " smaller")
                        + " than the left";
    }

    private String sentence(Difference measured, List<Part> parts, Estimate rest, Verdict verdict) {
        double difference = measured.estimate().value();
        StringBuilder text = new StringBuilder(name()).append(": ").append(compared(difference));
        List<Part> causes = parts.stream()
                .filter(p -> !p.name().equals("measured") && Math.abs(p.estimate()) >= SHOWS)
                .toList();
        double theSameWay = causes.stream()
                .mapToDouble(Part::estimate)
                .filter(p -> p * difference > 0)
                .sum();
        boolean within = Math.abs(theSameWay) < Math.abs(difference) + SHOWS;
        causes.forEach(part -> text.append("; ").append(cause(part, within && part.estimate() * difference > 0)));
        text.append(". What remains is ")
                .append(wording.signed(rest))
                .append(", ")
                .append(wording.range(rest))
                .append(" (plus: wider to the right); that ");
        String margin = "the practical margin of " + wording.amount(rule.margin());
        boolean locks = causes.stream().anyMatch(p -> p.name().equals("lockAngles"));
        boolean byStops = causes.stream().anyMatch(p -> p.name().equals(STOPS));
        text.append(verdict.<String>fold(
                w -> "is within " + margin + Wording.surely(w.probability()) + ": "
                        + turnsAlike(locks, byStops, !causes.isEmpty()),
                b -> "is beyond " + margin + Wording.surely(b.probability()) + ": "
                        + turnsUnlike(locks, byStops, rest.value() > 0 ? "wider" : "tighter"),
                c -> "may lie on either side of " + margin + ": this trial cannot tell yet.",
                n -> ""));
        return text.toString();
    }

    /**
     * What one cause does: part of the difference, or, where those the same way make more than that together or it goes the
     * other way, what it would make.
     */
    private String cause(Part part, boolean ofThat) {
        String cause = cause(part.name());
        return cause
                + (ofThat
                        ? (cause.endsWith("s") ? " explain " : " explains ") + wording.amount(part.estimate())
                                + " of that"
                        : " alone would make it " + wording.amount(part.estimate())
                                + (part.estimate() > 0 ? " larger" : " smaller"));
    }

    /** What stays true whatever the verdict on the remainder: stops that alone make a difference that matters. */
    private String whatStopsDo(List<Part> parts) {
        return parts.stream()
                .filter(p -> p.name().equals(STOPS) && rule.surelyBeyond(p.estimate(), p.standardUncertainty()))
                .findFirst()
                .map(p -> " Known already: steering stops off their specification alone make the right circle "
                        + wording.amount(p.estimate()) + (p.estimate() > 0 ? " larger" : " smaller")
                        + " against the left, which is beyond the practical margin."
                        // in 4WD the remark on how the stops were worked out says so
                        + (left.drive() == Drive.TWO_WHEEL
                                ? " That is worked out from ideal steering, not measured."
                                : ""))
                .orElse("");
    }

    private String howStopsWereWorkedOut(List<Part> parts) {
        if (parts.stream().noneMatch(p -> p.name().equals(STOPS) && Math.abs(p.estimate()) >= SHOWS)) {
            return "";
        }
        return stops.lockRemark()
                + (left.drive() == Drive.FOUR_WHEEL
                        ? " In 4WD the front axle skids and widens the path; what the stops make of it is the value for ideal"
                                + " steering."
                        : "");
    }

    private static String cause(String part) {
        return switch (part) {
            case "lockAngles" -> "the designed lock angles";
            case STOPS -> "the steering stops";
            default -> "the deck offset";
        };
    }

    private static String turnsAlike(boolean locks, boolean byStops, boolean explained) {
        if (byStops) {
            return "nothing that matters remains once the steering stops are counted"
                    + (locks ? "; beyond its designed lock angles" : ";")
                    + " what differs comes from how the stops stand and where the deck sits.";
        }
        return locks
                ? "the machine itself turns as its lock angles are designed; what else differs comes from where the deck sits."
                : explained
                        ? "the machine itself turns alike both ways; what differs comes from where the deck sits."
                        : "the machine turns alike both ways.";
    }

    private static String turnsUnlike(boolean locks, boolean byStops, String sense) {
        return (locks
                        ? "where the deck sits" + (byStops ? ", how the stops stand" : "")
                                + " and the designed lock angles do not account for it; beyond its design"
                        : byStops
                                ? "where the deck sits and how the stops stand do not account for it; besides,"
                                : "where the deck sits does not account for it;")
                + " the machine itself turns " + sense + " to the right than to the left.";
    }

    /** Whether the deck's part is so unlike what was measured that a slip in its sign or columns is likelier than a fault. */
    private boolean deckDoubtful(List<Part> parts) {
        double measured = parts.get(0).estimate();
        return parts.stream()
                .filter(p -> p.name().equals("deckOffset") && Math.abs(p.estimate()) > rule.margin())
                .anyMatch(p -> p.estimate() * measured < 0 || Math.abs(p.estimate()) > 2 * Math.abs(measured));
    }

    private String next(Verdict verdict, List<Part> parts) {
        String advice = stops.advice(wording);
        return verdict.fold(
                w -> !advice.isEmpty() ? advice : nothingToMend(parts),
                b -> (deckDoubtful(parts)
                                ? "First check the blade positions, and on which side of the centreline the deck sits: what they"
                                        + " explain runs against the circles or goes far beyond them. If they are right: "
                                : "")
                        + (advice.isEmpty()
                                ? "Look at the steering stops on both sides against the service manual, whether each touches the"
                                        + " axle at full lock, and at tyre sizes and pressures, before anything is adjusted. A"
                                        + " stop is never turned in past the specification. Chocks and rated stands first; a"
                                        + " qualified technician has the last word."
                                : advice + " Look at tyre sizes and pressures too."),
                c -> (advice.isEmpty() ? "" : advice + " ") + wording.outlook(c.outlook()),
                n -> "");
    }

    private String nothingToMend(List<Part> parts) {
        return parts.stream().anyMatch(p -> p.name().equals("deckOffset") && Math.abs(p.estimate()) > rule.margin())
                ? "Nothing to mend in the steering: show the customer the plan view. Turn to the side of the smaller circle where"
                        + " tightness counts."
                : "Nothing to mend in the steering.";
    }
}
