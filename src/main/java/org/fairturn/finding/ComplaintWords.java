package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.fairturn.finding.Complaint.Kind;
import org.fairturn.finding.ComplaintModel.Deviation;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Reference;
import org.fairturn.trial.SteeringStop;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.Figures;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/** What is said of complaints. */
final class ComplaintWords {
    private static final String MEND_CONTACT =
            ": leave the machine until this is mended, then mow the circles again. Chocks and rated stands first.";
    private static final String LAST_WORD = " The service manual and a qualified technician have the last word.";
    private static final String SET_STOP =
            " A stop that is off is set to its specification and must touch the axle at full lock; contact comes first, and a stop"
                    + " is never turned in past the specification. Chocks and rated stands first.";
    private static final String BEFORE_DECK =
            "Blades disengaged, brake set, engine stopped and key out before anyone touches the deck.";
    /** Below this many bits a check would hardly tell anything. */
    private static final double HARDLY = 0.02;
    /** Causes less likely than this are not named in a sentence. */
    private static final double WORTH_NAMING = 0.05;

    private static final int MOST_NAMED = 3;
    /** A stop is measured, and whoever wrote a reference is asked, before anything else: that is the check already. */
    private static final Set<Kind> BEGINS_WITH_A_CHECK =
            Set.of(Kind.LEFT_STOP, Kind.RIGHT_STOP, Kind.BOTH_STOPS, Kind.DIRECTION, Kind.CONVENTION);

    /** What no further circle makes better, whatever the reference is of. */
    static final String HANGS_ON_THE_REFERENCE =
            ": the rest hangs on the reference. The more closely it is known, and the more circles stand behind it, the more a"
                    + " machine can be held to it; write its uncertainty, or the circles behind it, into references.csv.";

    private final DecisionRule rule;
    private final Wording wording;

    /**
     * What no further circle makes better: neither deck nor axles come into an uncut diameter that is held against one of its own
     * turn.
     *
     * @param quantity of the reference
     * @param workedOut whether it is of the other turn
     */
    static String hangsOn(Claim.Quantity quantity, boolean workedOut) {
        if (!workedOut && quantity != Claim.Quantity.UNCUT_DIAMETER) {
            return ": the rest hangs on the reference, whose " + quantity.word()
                    + " is made an uncut circle by the machine's dimensions. Best is an uncut diameter in references.csv; else write"
                    + " the figure's uncertainty, or the circles behind it, there, and measure the machine more closely.";
        }
        return workedOut
                ? ": the rest hangs on the reference, which is worked out from its other turn. Best is a figure of this turn and"
                        + " drive in references.csv; else measure the blade positions more closely."
                : HANGS_ON_THE_REFERENCE;
    }

    /**
     * The same where the reference is another machine of the trial: then there is no figure to look up or to write down.
     *
     * @param knownGood the machine held to be good
     * @param machine the one complained of
     */
    static String hangsOnCirclesOf(String knownGood, String machine) {
        return ": the rest hangs on how the circles of both machines were measured. Measure those of " + knownGood
                + " as those of " + machine
                + " are measured: with the same tape, the same kinds of reading and the same eye for the edge.";
    }

    ComplaintWords(DecisionRule rule, Wording wording) {
        this.rule = rule;
        this.wording = wording;
    }

    /** A mean excess (m) as it was seen, with its standard uncertainty. */
    record Seen(double value, double standardUncertainty) {
        static Seen of(Quantity q) {
            return new Seen(q.mixture().mean(), q.mixture().standardDeviation());
        }

        boolean shows() {
            return Math.abs(value) > 2 * standardUncertainty;
        }
    }

    /**
     * The excess of the compared cells, drawn together.
     *
     * @param turns mean of each turn
     * @param twoWheel mean of the 2WD cells, where there are any
     * @param frontAxle how much larger the excess is in 4WD than in 2WD, over the turns that have both
     * @param each of each cell
     */
    record Pattern(Map<Turn, Seen> turns, Optional<Seen> twoWheel, Optional<Seen> frontAxle, List<Seen> each) {}

    private String excess(Seen seen) {
        return seen.shows()
                ? wording.amount(seen.value()) + (seen.value() > 0 ? " wider" : " tighter") + " than the reference"
                : "hardly off the reference";
    }

    private String circles(Turn turn, Pattern pattern) {
        return "the " + turn.word() + " circles are " + excess(pattern.turns().get(turn));
    }

    /** What speaks for a cause and against it. */
    record Evidence(List<String> speaksFor, List<String> against) {
        Evidence() {
            this(new ArrayList<>(), new ArrayList<>());
        }

        void add(boolean inFavour, String words) {
            (inFavour ? speaksFor : against).add(words);
        }
    }

    Evidence evidence(ComplaintModel.Ranked cause, ComplaintModel model, Pattern pattern, List<Double> likeliest) {
        Evidence evidence = new Evidence();
        switch (cause.kind()) {
            case NOTHING -> nothing(evidence, model, pattern);
            case LEFT_STOP -> oneStop(evidence, Turn.LEFT, model, pattern);
            case RIGHT_STOP -> oneStop(evidence, Turn.RIGHT, model, pattern);
            case BOTH_STOPS -> bothStops(evidence, model, pattern);
            case DECK -> deck(evidence, model, pattern);
            case FRONT_AXLE -> frontAxle(evidence, pattern);
            case DIRECTION, CONVENTION -> readOtherwise(evidence, cause, pattern);
            case OTHER ->
                evidence.add(
                        likeliest.stream().noneMatch(p -> p > 0.5),
                        likeliest.stream().noneMatch(p -> p > 0.5)
                                ? "no single cause stands out"
                                : "one cause alone makes the same pattern");
        }
        return evidence;
    }

    private void nothing(Evidence evidence, ComplaintModel model, Pattern pattern) {
        pattern.turns().forEach((turn, seen) -> evidence.add(!seen.shows(), circles(turn, pattern)));
        for (Turn turn : Turn.values()) {
            stopMeasured(turn, model)
                    .ifPresent(words -> evidence.add(!off(model.stop(turn).orElseThrow()), words));
            withoutContact(evidence, turn, model, /* inFavour= */ false);
        }
        deckMeasured(model)
                .ifPresent(words -> evidence.add(!model.deck().orElseThrow().shows(), words));
    }

    private void oneStop(Evidence evidence, Turn turn, ComplaintModel model, Pattern pattern) {
        evidence.add(pattern.turns().get(turn).shows(), circles(turn, pattern));
        Turn other = turn.other();
        if (pattern.turns().containsKey(other)) {
            evidence.add(!pattern.turns().get(other).shows(), circles(other, pattern));
        }
        ownStop(evidence, turn, model, pattern, true);
        stopMeasured(other, model)
                .ifPresent(words -> evidence.add(!off(model.stop(other).orElseThrow()), words));
        withoutContact(evidence, other, model, /* inFavour= */ false);
        inBothDrives(evidence, pattern);
    }

    private void bothStops(Evidence evidence, ComplaintModel model, Pattern pattern) {
        // what makes one turn wider and the other tighter is no common cause, whatever each of them shows
        boolean circlesAlike = !opposite(pattern);
        pattern.turns().forEach((turn, seen) -> evidence.add(circlesAlike && seen.shows(), circles(turn, pattern)));
        List<Double> stops = Stream.of(Turn.values())
                .flatMap(turn -> model.stop(turn).stream())
                .filter(ComplaintWords::off)
                .map(Deviation::value)
                .toList();
        boolean stopsAlike = stops.size() < 2 || stops.get(0) * stops.get(1) > 0;
        for (Turn turn : Turn.values()) {
            ownStop(evidence, turn, model, pattern, stopsAlike);
        }
        inBothDrives(evidence, pattern);
    }

    private static boolean opposite(Pattern pattern) {
        List<Double> shown = pattern.turns().values().stream()
                .filter(Seen::shows)
                .map(Seen::value)
                .toList();
        return shown.size() == 2 && shown.get(0) * shown.get(1) < 0;
    }

    /** A stop speaks for itself where it stands off to the side its circles are off to. */
    private void ownStop(Evidence evidence, Turn turn, ComplaintModel model, Pattern pattern, boolean alike) {
        Seen seen = pattern.turns().get(turn);
        stopMeasured(turn, model).ifPresent(words -> {
            Deviation x = model.stop(turn).orElseThrow();
            boolean runsAgainst = seen.shows() && seen.value() * x.value() < 0;
            evidence.add(alike && off(x) && !runsAgainst, words);
        });
        withoutContact(evidence, turn, model, /* inFavour= */ true);
    }

    private static void withoutContact(Evidence evidence, Turn turn, ComplaintModel model, boolean inFavour) {
        if (!model.slopes().noted(turn).flatMap(SteeringStop::touchesAxle).orElse(true)) {
            evidence.add(
                    inFavour,
                    "the " + model.slopes().name(turn) + " was seen not to touch the axle: mend this before all else");
        }
    }

    /** What was measured of a stop; empty where nothing was. */
    private Optional<String> stopMeasured(Turn turn, ComplaintModel model) {
        return model.stop(turn).map(x -> "the " + model.slopes().name(turn) + " was measured " + deviation(x));
    }

    private static boolean off(Deviation stop) {
        return !SteeringStops.atSpecification(stop.value());
    }

    private String deviation(Deviation x) {
        return off(x)
                ? wording.fine(x.value()) + (x.value() > 0 ? " too far out" : " too far in")
                : "at its specification";
    }

    private void inBothDrives(Evidence evidence, Pattern pattern) {
        pattern.frontAxle()
                .ifPresent(seen -> evidence.add(
                        !seen.shows(),
                        seen.shows()
                                ? "the excess is " + wording.amount(seen.value())
                                        + (seen.value() > 0 ? " larger" : " smaller") + " in 4WD than in 2WD"
                                : "the excess is about the same in 2WD and 4WD"));
    }

    private void deck(Evidence evidence, ComplaintModel model, Pattern pattern) {
        if (pattern.turns().size() == 2) {
            boolean opposite = opposite(pattern);
            evidence.add(
                    opposite,
                    opposite
                            ? "one turn is wider and the other tighter than the reference"
                            : "left and right are not off the reference in opposite directions");
        }
        deckMeasured(model).ifPresent(words -> {
            Deviation x = model.deck().orElseThrow();
            evidence.add(x.shows() && !runsAgainst(x, pattern), words);
        });
        inBothDrives(evidence, pattern);
    }

    /** Further to the left it makes a left turn tighter and a right one wider: whether the circles show only the contrary. */
    private static boolean runsAgainst(Deviation deck, Pattern pattern) {
        List<Double> toTheRight = pattern.turns().entrySet().stream()
                .filter(e -> e.getValue().shows())
                .map(e -> e.getKey().sign() * e.getValue().value())
                .toList();
        return !toTheRight.isEmpty() && toTheRight.stream().allMatch(x -> x * deck.value() > 0);
    }

    private Optional<String> deckMeasured(ComplaintModel model) {
        return model.deck()
                .map(x -> "the deck was measured "
                        + (x.shows()
                                ? wording.amount(x.value())
                                        + (x.value() > 0 ? " too far to the left" : " too far to the right")
                                : "where it should sit"));
    }

    private void frontAxle(Evidence evidence, Pattern pattern) {
        pattern.frontAxle()
                .ifPresentOrElse(
                        seen -> evidence.add(
                                seen.shows(),
                                seen.shows()
                                        ? "the excess is " + wording.amount(seen.value())
                                                + (seen.value() > 0 ? " larger" : " smaller") + " in 4WD than in 2WD"
                                        : "the excess is about the same in 2WD and 4WD"),
                        () -> evidence.add(false, "no turn was compared in both 2WD and 4WD"));
        pattern.twoWheel().ifPresent(seen -> evidence.add(!seen.shows(), "the circles in 2WD are " + excess(seen)));
    }

    private void readOtherwise(Evidence evidence, ComplaintModel.Ranked cause, Pattern pattern) {
        double asStated = pattern.each().stream()
                .mapToDouble(s -> Math.abs(s.value()))
                .average()
                .orElseThrow();
        double otherwise = IntStream.range(0, pattern.each().size())
                .mapToDouble(k ->
                        Math.abs(pattern.each().get(k).value() - cause.effects().get(k)))
                .average()
                .orElseThrow();
        evidence.add(
                otherwise < asStated,
                "read so, the circles lie " + wording.amount(otherwise)
                        + " off the reference on average; as it stands, " + wording.amount(asStated));
    }

    /** How big a cause is in the shop's terms. */
    Optional<Complaint.Size> size(ComplaintModel.Ranked cause, ComplaintModel model) {
        return cause.size().map(part -> switch (cause.kind()) {
            case LEFT_STOP -> stop(part, List.of(Turn.LEFT), model);
            case RIGHT_STOP -> stop(part, List.of(Turn.RIGHT), model);
            case BOTH_STOPS -> stop(part, List.of(Turn.LEFT, Turn.RIGHT), model);
            case DECK -> deckSize(part);
            case FRONT_AXLE -> frontSize(part, cause, model.slopes());
            case NOTHING, DIRECTION, CONVENTION, OTHER -> throw new IllegalStateException("no size");
        });
    }

    private Complaint.Size stop(Part part, List<Turn> turns, ComplaintModel model) {
        CauseSlopes slopes = model.slopes();
        double b = part.estimate();
        // of a stop that was measured no circle has to tell the protrusion
        List<String> missing = turns.stream()
                .filter(t -> model.stop(t).isEmpty())
                .flatMap(t -> slopes.missing(t).stream())
                .distinct()
                .toList();
        String one = turns.size() == 1 ? "it protrudes" : "each protrudes";
        String sense = b > 0 ? " too far out" : " too far in";
        if (SteeringStops.atSpecification(b)) {
            return new Complaint.Size(
                    1000 * b,
                    1000 * part.standardUncertainty(),
                    "mm",
                    (turns.size() == 1 ? "it would stand" : "each would stand") + " at its specification");
        }
        List<String> words = new ArrayList<>();
        if (missing.isEmpty()) {
            words.add(one + " about " + wording.fine(b) + sense);
        } else {
            words.add(one + sense);
        }
        List<String> arms = turns.stream()
                .filter(t -> model.stop(t).isPresent())
                .flatMap(t -> slopes.missingArm(t).stream())
                .toList();
        if (arms.isEmpty()
                && turns.stream()
                        .allMatch(t -> model.stop(t).isPresent()
                                || slopes.missingForLock(t).isEmpty())) {
            // told by circles with a typical arm, protrusion and arm are both off by the same factor, and the angle is
            // right
            double lock = Math.abs(b)
                    / turns.stream().mapToDouble(slopes::arm).average().orElseThrow();
            words.add("about " + Figures.fixed(Math.toDegrees(lock), 1) + "°" + (b > 0 ? " less lock" : " more lock"));
        }
        return new Complaint.Size(
                missing.isEmpty() ? 1000 * b : Double.NaN,
                missing.isEmpty() ? 1000 * part.standardUncertainty() : Double.NaN,
                "mm",
                String.join(", ", words)
                        + (missing.isEmpty()
                                ? turnsOfTheBolt(b, turns, slopes)
                                : "; to say by how much, write down " + String.join(", ", missing))
                        + (arms.isEmpty() || !missing.isEmpty()
                                ? ""
                                : "; to have it as an angle, write down " + String.join(", ", arms)));
    }

    private String turnsOfTheBolt(double b, List<Turn> turns, CauseSlopes slopes) {
        List<Length> pitches = turns.stream()
                .flatMap(t -> slopes.noted(t).flatMap(SteeringStop::threadPitch).stream())
                .distinct()
                .toList();
        return pitches.isEmpty()
                ? "; to have it in turns of the bolt, write its thread pitch into stops.csv"
                : pitches.stream()
                        .map(pitch -> "with a pitch of " + pitch.exactly(LengthUnit.MILLIMETRE) + " about "
                                + Figures.fixed(Math.abs(b) / pitch.metres(), 1))
                        .collect(Collectors.joining(" and ", ", ", " turns of the bolt"));
    }

    private Complaint.Size deckSize(Part part) {
        return new Complaint.Size(
                1000 * part.estimate(),
                1000 * part.standardUncertainty(),
                "mm",
                "it sits about " + wording.amount(part.estimate())
                        + (part.estimate() > 0 ? " too far to the left" : " too far to the right"));
    }

    private Complaint.Size frontSize(Part part, ComplaintModel.Ranked cause, CauseSlopes slopes) {
        List<Cell> cells = slopes.cells();
        List<OptionalDouble> shares = IntStream.range(0, cells.size())
                .filter(k -> cells.get(k).drive() == Drive.FOUR_WHEEL)
                .mapToObj(k -> slopes.frontRolling(k, cause.effects().get(k)))
                .toList();
        String wider = "in 4WD it makes the circles " + wording.amount(part.estimate())
                + (part.estimate() > 0 ? " wider" : " tighter");
        if (shares.stream().anyMatch(OptionalDouble::isEmpty)) {
            List<String> missing = new ArrayList<>();
            if (slopes.machine().wheelbase().isEmpty()) {
                missing.add("the wheelbase (machines.csv)");
            }
            if (slopes.machine().blades().isEmpty()) {
                missing.add("the blade positions (blades.csv)");
            }
            return new Complaint.Size(
                    Double.NaN,
                    Double.NaN,
                    "%",
                    missing.isEmpty()
                            ? wider // a turn centre on the rear axle's middle or beyond it, round which no tyre rolls
                            : wider + "; to have it as a share of the tyres' rolling circumference, write down "
                                    + String.join(" and ", missing));
        }
        double share = shares.stream()
                .mapToDouble(OptionalDouble::orElseThrow)
                .average()
                .orElseThrow();
        return new Complaint.Size(
                100 * share,
                Math.abs(100 * share * part.standardUncertainty() / part.estimate()),
                "%",
                wider + ", as if the front tyres rolled about " + Figures.fixed(100 * Math.abs(share), 1) + " % "
                        + (share < 0 ? "less" : "further") + " against the rear ones than they should, about "
                        + Figures.fixed(1000 * Math.abs(share), 0)
                        + " mm for each metre of circumference (kinematics only; tyres give way)");
    }

    /**
     * The finding on the whole.
     *
     * @param knownGood the machine that is the reference, where one is
     * @param noneCame turns the reference speaks of, and nothing could be compared in
     * @param notStated turns it does not speak of
     */
    String sentence(
            Complaint complaint,
            CauseSlopes slopes,
            Estimate q,
            Verdict verdict,
            Optional<String> knownGood,
            List<String> noneCame,
            List<String> notStated) {
        int n = complaint.compared().size();
        return complaint.machine() + ", held against " + complaint.source() + ": "
                + (n == 1
                        ? "in the " + turn(complaint.compared().get(0).cell()) + ", the only one compared,"
                        : "on the whole (" + n + " turns and drives compared)")
                + " its circles are " + wording.amount(q)
                + (q.value() < 0 ? " smaller" : " larger") + " than the reference, " + between(q) + "; that "
                + against(verdict) + "."
                + leftOut(
                        knownGood
                                .map(good -> "no circle of " + good + " showing it")
                                .orElse("the figure being too small for this machine"),
                        noneCame)
                + leftOut("the reference saying nothing of it", notStated)
                + " " + behindIt(complaint, loose(slopes)) + ".";
    }

    private static String turn(Cell cell) {
        return cell.turn().word() + " turn in " + Wording.condition(cell);
    }

    private String behindIt(Complaint complaint, Optional<String> loose) {
        Complaint.Cause first = complaint.causes().get(0);
        String surely = Wording.surely(first.probability());
        if (first.probability() < rule.confidence()) {
            return "What is behind it cannot be told yet; most probably " + leading(complaint, loose);
        }
        if (first.kind() == Kind.NOTHING) {
            return "Most probably there is " + first.name() + surely + butLoose(List.of(first), loose);
        }
        // what a stop that does not touch would have to protrude is no size of anything
        return "Most probable cause: " + first.name() + surely
                + loose.map(l -> "; but " + l)
                        .or(() -> first.size().map(s -> "; " + s.words()))
                        .orElse("");
    }

    private static String leftOut(String why, List<String> cells) {
        return cells.isEmpty() ? "" : " Left out, " + why + ": " + String.join("; ", cells) + ".";
    }

    private static String leading(Complaint complaint, Optional<String> loose) {
        List<Complaint.Cause> named = complaint.causes().stream()
                .limit(MOST_NAMED)
                .filter(c -> c.probability() >= WORTH_NAMING)
                .toList();
        return named.stream()
                        .map(c -> c.name() + " (" + Figures.percent(c.probability()) + ")")
                        .collect(Collectors.joining(", then "))
                + butLoose(named, loose);
    }

    /** A machine with a stop that does not hold is not sound, whatever its circles show. */
    private static String butLoose(List<Complaint.Cause> named, Optional<String> loose) {
        return loose.filter(l -> named.stream().anyMatch(c -> c.kind() == Kind.NOTHING))
                .map(l -> "; but " + l)
                .orElse("");
    }

    /** The stops that were seen not to hold, where there are any. */
    private static Optional<String> loose(CauseSlopes slopes) {
        List<String> loose = slopes.machine().stops().stream()
                .filter(SteeringStop::lacksContact)
                .map(stop -> "the " + SteeringStops.name(stop))
                .toList();
        return loose.isEmpty()
                ? Optional.empty()
                : Optional.of(String.join(" and ", loose)
                        + (loose.size() == 1 ? " does" : " do")
                        + " not touch the axle at full lock");
    }

    private String between(Estimate q) {
        return wording.towards(q);
    }

    private String against(Verdict verdict) {
        String margin = "the practical margin of " + wording.amount(rule.margin());
        return verdict.fold(
                w -> "is within " + margin + Wording.surely(w.probability()),
                b -> "is beyond " + margin + Wording.surely(b.probability()),
                c -> "may lie on either side of " + margin,
                n -> "");
    }

    /** The finding on one cell. */
    String cell(Complaint.Compared compared, String source, Verdict verdict) {
        Estimate q = compared.excess();
        Cell cell = compared.cell();
        return cell.machine() + ", " + turn(cell) + ", held against "
                + source + ": the uncut circle is " + wording.amount(q)
                + (q.value() < 0 ? " smaller" : " larger") + " than the " + wording.amount(compared.reference())
                + (compared.workedOut() ? " worked out from its other turn, " : " of the reference, ") + between(q)
                + "; that " + against(verdict)
                + verdict.<String>fold(
                        w -> ": here the machine turns as it should.",
                        b -> q.value() > 0 ? ": here it turns wider." : ": here it turns tighter.",
                        c -> ": this trial cannot tell yet.",
                        n -> "");
    }

    /** What to do: the remedy where a cause is named, then the check that tells most. */
    String next(Complaint complaint, CauseSlopes slopes) {
        Complaint.Cause first = complaint.causes().get(0);
        String check = complaint.checks().stream()
                .findFirst()
                .filter(c -> c.bits() >= HARDLY)
                .map(Complaint.Check::how)
                .orElse("");
        Optional<String> loose = loose(slopes);
        if (loose.isPresent()) { // it comes before every other remedy, and no stop is set by circles it did not limit
            boolean named = first.probability() >= rule.confidence();
            return (named && first.kind() == Kind.NOTHING
                            ? "The circles show nothing to set right, but " + loose.get()
                            : "T" + loose.get().substring(1))
                    + MEND_CONTACT
                    + LAST_WORD;
        }
        if (first.probability() < rule.confidence()) {
            return check.isEmpty()
                    ? "No single check is expected to tell much more; a qualified technician looks at steering, deck and front axle by"
                            + " the service manual."
                    : check + LAST_WORD;
        }
        return remedy(first, slopes)
                + (BEGINS_WITH_A_CHECK.contains(first.kind()) || check.isEmpty() ? "" : " To make sure: " + check);
    }

    private String remedy(Complaint.Cause cause, CauseSlopes slopes) {
        return switch (cause.kind()) {
            case NOTHING -> "Nothing to set right: hand over these figures, with turn and drive beside each.";
            case LEFT_STOP, RIGHT_STOP, BOTH_STOPS -> {
                List<SteeringStop> named = named(cause.kind(), slopes);
                String advice = new SteeringStops(slopes.machine()).advice(wording, named::contains);
                String notMeasured = named.stream()
                        .filter(stop -> SteeringStops.deviation(stop).isEmpty())
                        .map(stop -> " Measure how far the " + SteeringStops.name(stop)
                                + " protrudes too and hold it against the service manual.")
                        .collect(Collectors.joining());
                yield advice.isEmpty()
                        ? "Measure how far " + cause.name().replace("both stops alike", "both stops")
                                + (cause.kind() == Kind.BOTH_STOPS ? " protrude" : " protrudes")
                                + " and hold it against the service manual." + SET_STOP + LAST_WORD
                        : advice + notMeasured;
            }
            case DECK ->
                "Have the deck's hangers and linkage looked at and the deck set to its place by the service manual. "
                        + BEFORE_DECK + LAST_WORD;
            case FRONT_AXLE ->
                "Have tyre sizes, wear and pressures, front and rear, brought to what the service manual states, then mow again in"
                        + " 4WD." + LAST_WORD;
            case DIRECTION ->
                "Ask which turn each figure of the reference means, write that into references.csv and compare again. Leave the"
                        + " machine as it is until then.";
            case CONVENTION ->
                "Ask what the reference figure measures, write it into the column quantity of references.csv and compare again. Leave"
                        + " the machine as it is until then.";
            case OTHER ->
                "None of the single causes explains it: a qualified technician looks at steering, deck and front axle by the service"
                        + " manual.";
        };
    }

    /** The stops a cause names, as far as they were noted. */
    private static List<SteeringStop> named(Kind kind, CauseSlopes slopes) {
        return Stream.of(Turn.values())
                .filter(turn -> kind == Kind.BOTH_STOPS || (kind == Kind.LEFT_STOP) == (turn == Turn.LEFT))
                .flatMap(turn -> slopes.noted(turn).stream())
                .toList();
    }

    static Complaint.Check measureStop(String name, double bits) {
        return new Complaint.Check(
                "measure the " + name,
                "Measure how far the " + name
                        + " protrudes, hold it against the service manual, and see that it touches the axle at full lock; write both"
                        + " into stops.csv. Chocks and rated stands first.",
                bits);
    }

    static Complaint.Check measureDeck(double bits) {
        return new Complaint.Check(
                "measure the deck offset from the blade tips",
                "Measure from the centreline to the outermost blade tips on both sides and hold the deck offset against the service"
                        + " manual; write both into machines.csv. " + BEFORE_DECK,
                bits);
    }

    static Complaint.Check rollOut(double bits) {
        return new Complaint.Check(
                "roll out front and rear tyres",
                "Hold tyre sizes and pressures against the service manual, then roll the machine straight ahead in 2WD, slowly and on"
                        + " level ground, and measure how far it goes in ten turns of a front and of a rear wheel.",
                bits);
    }

    static Complaint.Check oneMoreCircle(Cell cell, double bits) {
        String circle = "one more circle to the " + cell.turn().word() + " in " + Wording.condition(cell);
        return new Complaint.Check(
                circle,
                "Mow and measure " + circle + "."
                        + (cell.brakes() == Brakes.USED
                                ? " With brakes only where the operator's manual allows it."
                                : ""),
                bits);
    }

    static Complaint.Check askForTheReference(double bits) {
        return new Complaint.Check(
                "ask how the reference was measured",
                "Ask which turn and drive the reference means, and whether it is an uncut diameter, a radius, a turn radius, a turning"
                        + " circle or a clearance circle.",
                bits);
    }

    /** What is missing where a figure is too small for a machine: it cannot turn so tightly, or would leave no disc. */
    String tooSmall(Reference figure) {
        return "a figure this machine can turn: a " + figure.quantity().word() + " of "
                + figure.value().map(v -> wording.amount(v.metres())).orElse("") + " is too small for it";
    }

    /** A complaint that cannot be looked into. */
    String notPossible(String machine, String source, List<String> missing) {
        return machine + ", held against " + source + ": cannot be compared yet. Missing: "
                + missing.stream().collect(Collectors.joining("; ")) + ".";
    }
}
