package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim;

/**
 * Claims about one machine, held against each other.
 *
 * <p>Only over the turns, drives and uses of brakes both may mean. Where one leaves open of which it is, they may be of
 * different ones and both be right: then they are not said to contradict each other, however far apart they lie. What is no
 * uncut diameter is compared as the uncut diameter it comes to on the machine, in the condition where the two differ least; two
 * of one quantity as they stand where that cannot be worked out.
 */
final class ClaimPairs {
    static final String TURN = "the turn";
    static final String DRIVE = "the drive";
    static final String BRAKES = "whether brakes were used";

    private final Asked asked;
    private final DecisionRule rule;
    private final Wording wording;
    private final ClaimWords words;

    ClaimPairs(Asked asked, ClaimWords words) {
        this.asked = asked;
        this.rule = asked.rule();
        this.wording = asked.wording();
        this.words = words;
    }

    /**
     * Two claims that can be put beside each other.
     *
     * @param cell a condition both may mean
     * @param converted whether the machine was needed to compare them, which makes another figure of them in every turn
     * @param leastOfSeveral whether it is the one of several where they differ least
     * @param first what the first comes to (m)
     * @param second what the second comes to (m)
     * @param openOfA what the first leaves open, in words
     * @param openOfB what the second leaves open, in words
     * @param difference the first less the second, across the circle
     */
    record Pair(
            Claim a,
            Claim b,
            Cell cell,
            boolean converted,
            boolean leastOfSeveral,
            double first,
            double second,
            List<String> openOfA,
            List<String> openOfB,
            MachineEstimate.Contrast difference) {
        Pair {
            openOfA = List.copyOf(openOfA);
            openOfB = List.copyOf(openOfB);
        }

        List<Claim> claims() {
            return List.of(a, b);
        }

        List<String> open(Claim claim) {
            return claim.equals(a) ? openOfA : openOfB;
        }

        boolean acrossTheCircle() {
            return !converted && a.quantity() == Claim.Quantity.TURN_RADIUS;
        }

        /** Whether they may be of different turns, drives or uses of brakes. */
        boolean mayBeOfDifferentOnes() {
            return !openOfA.isEmpty() || !openOfB.isEmpty();
        }
    }

    List<Answer<Asked>> answers() {
        List<Claim> claims = asked.trial().claims();
        List<Answer<Asked>> answers = new ArrayList<>();
        for (int i = 0; i < claims.size(); i++) {
            for (int j = i + 1; j < claims.size(); j++) {
                answer(claims.get(i), claims.get(j)).ifPresent(answers::add);
            }
        }
        return answers;
    }

    private Optional<Answer<Asked>> answer(Claim a, Claim b) {
        if (a.machine().isEmpty() || !a.machine().equals(b.machine())) {
            return Optional.empty();
        }
        return asked.machine(a.machine().get()).flatMap(machine -> answer(a, b, machine));
    }

    private Optional<Answer<Asked>> answer(Claim a, Claim b, MachineEstimate machine) {
        List<Cell> ofA = Claims.readings(asked, a).toList();
        List<Cell> ofB = Claims.readings(asked, b).toList();
        List<Cell> both = ofA.stream().filter(ofB::contains).toList();
        if (both.isEmpty()) {
            boolean oneDoesNotSay = a.brakes().isEmpty() || b.brakes().isEmpty();
            return alike(a.turn(), b.turn()) && alike(a.drive(), b.drive()) && oneDoesNotSay
                    ? Optional.of(otherBrakes(a, b))
                    : Optional.empty(); // they say themselves that they are of different conditions
        }
        List<String> openOfA = open(a, ofA);
        List<String> openOfB = open(b, ofB);
        boolean oneQuantity = a.quantity() == b.quantity();
        Pair asTheyStand = new Pair(
                a,
                b,
                both.get(0),
                false,
                false,
                a.value().metres(),
                b.value().metres(),
                openOfA,
                openOfB,
                asTheyStand(a, b, machine));
        if (oneQuantity && a.quantity() == Claim.Quantity.UNCUT_DIAMETER) {
            return Optional.of(answer(asTheyStand));
        }
        List<String> missing = Stream.of(a, b)
                .flatMap(c -> ClaimConversion.missing(c.quantity(), machine.machine()).stream())
                .distinct()
                .toList();
        if (!missing.isEmpty()) {
            return Optional.of(oneQuantity ? answer(asTheyStand) : otherMeasures(a, b, missing));
        }
        return Optional.of(both.stream()
                .flatMap(cell -> converted(a, b, cell, both.size() > 1, openOfA, openOfB, machine).stream())
                .min(Comparator.comparingDouble(
                        p -> Math.abs(p.difference().value()) / p.difference().standardUncertainty()))
                .or(() -> Optional.of(asTheyStand).filter(p -> oneQuantity))
                .map(this::answer)
                .orElseGet(() -> otherMeasures(
                        a,
                        b,
                        Stream.of(a, b)
                                .filter(c -> both.stream()
                                        .noneMatch(cell ->
                                                conversion(c, cell, machine).isPresent()))
                                .map(c -> words.tooSmall(c.value(), c.quantity(), machine.machine()))
                                .distinct()
                                .toList())));
    }

    private static <T> boolean alike(Optional<T> a, Optional<T> b) {
        return a.isEmpty() || b.isEmpty() || a.equals(b);
    }

    private static List<String> open(Claim claim, List<Cell> readings) {
        List<String> open = new ArrayList<>();
        if (claim.turn().isEmpty()) {
            open.add(TURN);
        }
        if (claim.drive().isEmpty()) {
            open.add(DRIVE);
        }
        if (claim.brakes().isEmpty() && readings.stream().anyMatch(cell -> cell.brakes() == Brakes.USED)) {
            open.add(BRAKES);
        }
        return open;
    }

    private static Optional<ClaimConversion> conversion(Claim claim, Cell cell, MachineEstimate machine) {
        return ClaimConversion.of(claim.value().metres(), claim.quantity(), machine.machine(), cell);
    }

    private static Optional<Pair> converted(
            Claim a,
            Claim b,
            Cell cell,
            boolean several,
            List<String> openOfA,
            List<String> openOfB,
            MachineEstimate machine) {
        return conversion(a, cell, machine)
                .flatMap(first -> conversion(b, cell, machine)
                        .map(second -> new Pair(
                                a,
                                b,
                                cell,
                                true,
                                several,
                                first.diameter(),
                                second.diameter(),
                                openOfA,
                                openOfB,
                                difference(a, b, first, second, machine))));
    }

    /** The first less the second of one quantity, without the machine's dimensions. */
    private static MachineEstimate.Contrast asTheyStand(Claim a, Claim b, MachineEstimate machine) {
        // a radius moves an uncut diameter by no more than twice as much
        double factor = a.quantity() == Claim.Quantity.TURN_RADIUS ? 2 : 1;
        return difference(
                a,
                b,
                new ClaimConversion(factor * a.value().metres(), factor, List.of()),
                new ClaimConversion(factor * b.value().metres(), factor, List.of()),
                machine);
    }

    private static Optional<MachineEstimate.Contrast> again(Pair pair, MachineEstimate machine) {
        return pair.converted()
                ? converted(
                                pair.a(),
                                pair.b(),
                                pair.cell(),
                                pair.leastOfSeveral(),
                                pair.openOfA(),
                                pair.openOfB(),
                                machine)
                        .map(Pair::difference)
                : Optional.of(asTheyStand(pair.a(), pair.b(), machine));
    }

    private static MachineEstimate.Contrast difference(
            Claim a, Claim b, ClaimConversion first, ClaimConversion second, MachineEstimate machine) {
        // a dimension that both went through moves both
        Map<String, Double> effects = new LinkedHashMap<>();
        first.contributions().forEach(c -> effects.merge(c.name(), c.effect(), Double::sum));
        second.contributions().forEach(c -> effects.merge(c.name(), -c.effect(), Double::sum));
        double variance =
                effects.values().stream().mapToDouble(Claims::square).sum() + stated(a, first) + stated(b, second);
        return machine.contrast(
                new double[machine.cells().size()],
                first.diameter() - second.diameter(),
                variance,
                Claims.newCircle(a) + Claims.newCircle(b));
    }

    private static double stated(Claim claim, ClaimConversion converted) {
        return claim.uncertainty()
                .map(u -> Claims.square(u.metres() * converted.slope()))
                .orElse(0.0);
    }

    private Answer<Asked> answer(Pair pair) {
        Judgement judgement = new Judgement(pair.difference(), rule, DecisionRule.Asks.UNSIGNED);
        Verdict verdict = judgement.verdict();
        if (verdict.word().equals("beyond") && pair.mayBeOfDifferentOnes()) {
            return Answer.open(perhapsOfOthers(pair, verdict));
        }
        Finding finding = Finding.judged(
                Question.CLAIM,
                subject(pair.a(), pair.b()),
                judgement,
                pair.difference(),
                rule,
                List.of(),
                wording,
                words.against(pair, pair.difference().estimate(), verdict),
                "",
                ClaimWords.nextAgainst(pair.a(), pair.b(), verdict));
        String machine = pair.cell().machine();
        return new Answer<>(
                finding,
                Set.of(machine),
                changed -> changed.machine(machine)
                        .flatMap(m -> again(pair, m))
                        .map(q -> q.then(rule, DecisionRule.Asks.UNSIGNED)));
    }

    private Finding perhapsOfOthers(Pair pair, Verdict verdict) {
        List<String> missing = pair.claims().stream()
                .flatMap(c -> pair.open(c).stream().map(open -> open + " of claim " + c.id()))
                .map(open -> open.replace(BRAKES + " of", BRAKES + " in"))
                .toList();
        return notPossible(
                pair.a(),
                pair.b(),
                missing,
                words.perhapsOfOthers(pair, pair.difference().estimate(), verdict));
    }

    private Answer<Asked> otherBrakes(Claim a, Claim b) {
        Claim with = a.brakes().isPresent() ? a : b;
        Claim without = a.brakes().isPresent() ? b : a;
        return Answer.open(
                notPossible(a, b, List.of(BRAKES + " in claim " + without.id()), words.otherBrakes(with, without)));
    }

    private Answer<Asked> otherMeasures(Claim a, Claim b, List<String> missing) {
        return Answer.open(notPossible(a, b, missing, words.otherMeasures(a, b, missing)));
    }

    private Finding notPossible(Claim a, Claim b, List<String> missing, String sentence) {
        Verdict verdict = new Verdict.NotPossible(missing);
        return Finding.notPossible(
                Question.CLAIM,
                subject(a, b),
                missing,
                rule,
                List.of(),
                false,
                sentence,
                ClaimWords.nextAgainst(a, b, verdict));
    }

    private static Map<String, String> subject(Claim a, Claim b) {
        Map<String, String> subject = new LinkedHashMap<>();
        subject.put("claim", a.id());
        subject.put("machine", a.machine().orElseThrow());
        a.turn().or(b::turn).ifPresent(t -> subject.put("turn", t.word()));
        a.drive().or(b::drive).ifPresent(d -> subject.put("drive", d.word()));
        subject.put(
                "reading",
                "against claim " + b.id() + ", " + a.quantity().word()
                        + (a.quantity() == b.quantity()
                                ? ""
                                : " and " + b.quantity().word()));
        return subject;
    }
}
