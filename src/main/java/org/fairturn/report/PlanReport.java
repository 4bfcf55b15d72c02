package org.fairturn.report;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.fairturn.finding.NoContact;
import org.fairturn.finding.PlanWish;
import org.fairturn.finding.PlannedQuestion;
import org.fairturn.finding.RunOrder;
import org.fairturn.finding.TrialPlan;
import org.fairturn.finding.Wording;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.units.Figures;

/** A plan in words and for programs, with its run order. */
public final class PlanReport {
    private final TrialPlan plan;
    private final PlanWish wish;
    private final Wording wording;
    private final long seed;

    /**
     * A plan, and the run order that a seed draws for it.
     *
     * @param plan worked out
     * @param seed the run order is drawn with
     */
    public PlanReport(TrialPlan plan, long seed) {
        this.plan = plan;
        this.wish = plan.wish();
        this.wording = new Wording(wish.conditions().lengthUnit());
        this.seed = seed;
    }

    /**
     * A seed of six figures that the same words always give, so that it can be said aloud.
     *
     * @param words such as the trial's title
     * @return in [0, 999999]
     */
    public static long seed(String words) {
        return Math.floorMod(words.hashCode(), 1_000_000);
    }

    /**
     * {@return what names a plan, title, day, machines and drives: for a seed where none is given}
     *
     * @param wish what is planned for
     */
    public static String words(PlanWish wish) {
        return wish.conditions().title() + "|" + wish.conditions().date() + "|"
                + wish.machines().stream().map(Machine::id).collect(Collectors.joining("|")) + "|"
                + wish.drives().stream().sorted().map(Drive::word).collect(Collectors.joining("|"));
    }

    /** {@return the cells in the order they are to be driven; none where nothing fits into the time there is} */
    public List<Cell> order() {
        if (plan.basis() == TrialPlan.Basis.TOO_LITTLE_TIME) {
            return List.of();
        }
        return RunOrder.of(
                wish.machines().stream().map(Machine::id).toList(),
                wish.drives().stream().sorted().toList(),
                plan.design().circles(),
                seed);
    }

    /** {@return readings of each circle} */
    public int readings() {
        return plan.design().readings();
    }

    /**
     * What it takes for a chance.
     *
     * @param chance such as 90 %
     * @param circles of each turn and drive of each machine; empty where no plan has the chance, as are the others then
     * @param readings of each circle
     * @param all circles
     * @param time that it takes, in words
     */
    public record Size(String chance, String circles, String readings, String all, String time) {}

    /** {@return the cheapest plan for each of the usual chances} */
    public List<Size> sizes() {
        return plan.choices().stream()
                .map(choice -> choice.design()
                        .map(d -> new Size(
                                Figures.percent(choice.chance()),
                                Integer.toString(d.circles()),
                                Integer.toString(d.readings()),
                                Integer.toString(d.allCircles()),
                                time(d.minutes())))
                        .orElseGet(() -> new Size(Figures.percent(choice.chance()), "", "", "", "")))
                .toList();
    }

    /** {@return what is to be told apart from no difference, in words} */
    public String difference() {
        return wording.amount(wish.difference());
    }

    /** {@return what the plan can tell of each question, a line each; none where nothing fits into the time there is} */
    public List<String> foreseen() {
        if (plan.basis() == TrialPlan.Basis.TOO_LITTLE_TIME) {
            return List.of();
        }
        return plan.foreseen(plan.design()).stream().map(this::foreseen).toList();
    }

    /**
     * Circles that are driven one after another in the same drive.
     *
     * @param drive of all of them
     * @param first place of the first, from 1
     * @param cells in the order they are driven
     */
    public record Block(Drive drive, int first, List<Cell> cells) {
        /**
         * Keeps its own copy of the list.
         *
         * @param drive of all of them
         * @param first place of the first, from 1
         * @param cells in the order they are driven
         */
        public Block {
            cells = List.copyOf(cells);
        }

        /** {@return place in the run order of its last circle, from 1} */
        public int last() {
            return first + cells.size() - 1;
        }
    }

    /** {@return the run order, parted where the drive changes} */
    public List<Block> blocks() {
        List<Block> blocks = new ArrayList<>();
        List<Cell> order = order();
        int first = 0;
        for (int i = 1; i <= order.size(); i++) {
            if (i == order.size() || order.get(i).drive() != order.get(first).drive()) {
                blocks.add(new Block(order.get(first).drive(), first + 1, order.subList(first, i)));
                first = i;
            }
        }
        return List.copyOf(blocks);
    }

    /** {@return the answer, what it rests on, and the run order, a line each; the first says all that matters most} */
    public List<String> lines() {
        List<String> lines = new ArrayList<>(leave());
        if (!lines.isEmpty()) {
            lines.add("The plan is for the time after that is mended.");
        }
        lines.add(answer());
        lines.add(
                "What it takes for a chance of the right verdict on every question, whether there is no difference or one of "
                        + wording.amount(wish.difference()) + ":");
        for (TrialPlan.Choice choice : plan.choices()) {
            lines.add("  " + Figures.percent(choice.chance()) + ": "
                    + choice.design()
                            .map(d -> size(d) + ", " + time(d.minutes()))
                            .orElse("not with 24 circles of each turn and drive and 3 readings of each either"));
        }
        if (!foreseen().isEmpty()) {
            lines.add("What the plan can tell, each question by itself:");
            foreseen().forEach(line -> lines.add("  " + line));
        }
        lines.addAll(assumptions());
        if (!order().isEmpty()) {
            lines.add("Run order (seed " + seed + "; the same seed gives the same order):");
            lines.addAll(orderLines());
        }
        return List.copyOf(lines);
    }

    /** {@return which of the planned machines nobody is to drive before a stop of theirs touches the axle, a sentence each} */
    public List<String> leave() {
        return leave(wish.machines());
    }

    /**
     * {@return the same of any machines}
     *
     * @param machines with what was noted of their stops
     */
    public static List<String> leave(List<Machine> machines) {
        return NoContact.of(machines).stream().map(NoContact::sentence).toList();
    }

    /**
     * {@return what was agreed on before anything is planned, in a sentence}
     *
     * @param conditions of the trial that is planned
     */
    public static String agreed(Conditions conditions) {
        return "Practical margin "
                + new Wording(conditions.lengthUnit())
                        .amount(conditions.practicalMargin().metres())
                + " and confidence " + Figures.percent(conditions.confidence()) + ", as the trial states.";
    }

    /** {@return how much to mow, how long it takes and what it can tell} */
    public String answer() {
        TrialPlan.Design d = plan.design();
        String mow = "Mow " + size(d) + ", " + time(d.minutes()) + ": " + right();
        String wanted = Figures.percent(wish.chance());
        return switch (plan.basis()) {
            case CHEAPEST -> mow + " No quicker plan has " + wanted + "." + longDay();
            case TIME -> mow + mostInTime();
            case LESS_THAN_ASKED -> mow + mostInTime() + " " + givenUp() + " " + allThatWasAsked();
            case TOO_LITTLE_TIME ->
                "No fair trial fits into " + clock(wish.minutes().orElseThrow()) + ": the smallest takes "
                        + time(d.minutes()) + ", " + size(d) + ". " + givenUp() + " " + allThatWasAsked();
            case USUAL ->
                "No plan has the " + wanted + " asked for: " + obstacle() + " What is usual: " + mow + longDay();
        };
    }

    private String mostInTime() {
        return " That is the most that " + clock(wish.minutes().orElseThrow()) + " can show.";
    }

    /** What comes of a verdict that is not the right one: hardly ever a wrong one. */
    private String right() {
        double lowest = plan.lowest(plan.design());
        double wrong = plan.wrong(plan.design());
        String open = "the question stays open (cannot tell yet); a wrong verdict has a chance of " + chance(wrong)
                + (percents(wrong) < 1 ? "" : " at most");
        return percents(lowest) < 1
                ? "on one question or more the right verdict then has a chance of under 1 %, otherwise " + open
                        + ". What each can expect stands below."
                : "the right verdict then comes with a chance of "
                        + chance(Math.floor(100 * lowest) / 100) // "or more" must not be rounded up
                        + " or more on every question, whether there is no difference or one of "
                        + wording.amount(wish.difference()) + ". Otherwise " + open + ".";
    }

    /** What was asked and is not in the plan, or in it with less than it should have. */
    private String givenUp() {
        List<String> missing = new ArrayList<>();
        plan.asked().machines().stream()
                .filter(m -> !wish.machines().contains(m))
                .forEach(m -> missing.add(m.id() + " is not driven"));
        plan.asked().drives().stream()
                .filter(drive -> !wish.drives().contains(drive))
                .forEach(drive -> missing.add(drive.word() + " is not driven"));
        plan.asked().questions().stream()
                .sorted()
                .filter(q -> !wish.questions().contains(q))
                .forEach(q -> missing.add("\"" + q.title() + "\" is not answered"));
        if (plan.readOnce()) {
            missing.add(
                    "each circle is read once, so that a slip of the tape does not show and how much readings scatter is"
                            + " assumed");
        }
        return missing.isEmpty() ? "" : "For that, something is given up: " + String.join("; ", missing) + ".";
    }

    private String allThatWasAsked() {
        TrialPlan.Design all = plan.leastOfAll();
        return "All that was asked takes " + time(all.minutes()) + " at the least, "
                + clock(all.minutes() - wish.minutes().orElseThrow())
                + " more than there is, if mowing and marking a circle takes "
                + clock(wish.pace().circle()) + " and laying the tape "
                + clock(wish.pace().reading())
                + ": find the time, be quicker, or ask less.";
    }

    /** A day in the field: common practice, no source. */
    private static final double DAY = 8 * 60;

    private String longDay() {
        if (plan.design().minutes() <= DAY) {
            return "";
        }
        String plain = " That is more than a day of " + clock(DAY) + " in the field.";
        List<TrialPlan.Shorter> ways = plan.basis() == TrialPlan.Basis.CHEAPEST ? plan.shorter() : List.of();
        return ways.isEmpty()
                ? plain
                : plain + " With the same chance, "
                        + ways.stream().map(this::shorter).collect(Collectors.joining("; ")) + ".";
    }

    private String shorter(TrialPlan.Shorter way) {
        return time(way.design().minutes())
                + switch (way.by()) {
                    case ONE_DRIVE ->
                        " would do in " + way.wish().drives().iterator().next().word() + " alone";
                    case WIDER_MARGIN ->
                        " would do for a practical margin of "
                                + wording.amount(way.wish()
                                        .conditions()
                                        .practicalMargin()
                                        .metres())
                                + ", if those concerned agree on it";
                    case EVENER_CIRCLES ->
                        " would do if circles scatter by "
                                + wording.amount(way.wish().circleRepeatability())
                                + ", which earlier trials or a few circles mown first can tell";
                };
    }

    /** Why more circles do not do. */
    private String obstacle() {
        double margin = wish.conditions().practicalMargin().metres();
        if (plan.ofKnownGood().isPresent() && !plan.drivesKnownGood()) {
            return "a known good machine with "
                    + circles(plan.ofKnownGood().getAsInt())
                    + " of each turn and drive is too uncertain a reference. Name it as well, so that it is driven with"
                    + " the others.";
        }
        boolean geometry = plan.foreseen(plan.design()).stream().anyMatch(f -> 3 * f.geometry() > margin);
        return geometry
                ? "what is known of the deck, of the tape and of the figures compared with is too little for a practical margin of "
                        + wording.amount(margin)
                        + ". Measure blades and deck offset more closely and write how closely into blades.csv and"
                        + " machines.csv, or agree on a wider margin."
                : "circles that scatter by " + wording.amount(wish.circleRepeatability())
                        + " are too much for a practical margin of " + wording.amount(margin)
                        + ". Mow more evenly, or agree on a wider margin. Where circles are known to scatter less, plan with"
                        + " that.";
    }

    private static String circles(int number) {
        return number + (number == 1 ? " circle" : " circles");
    }

    private static String size(TrialPlan.Design d) {
        return d.circles() + " circles of each turn and drive of each machine (" + d.allCircles() + " in all) with "
                + d.readings() + (d.readings() == 1 ? " reading each" : " readings each");
    }

    private static String time(double minutes) {
        return "about " + clock(minutes);
    }

    private static String clock(double minutes) {
        long whole = Math.round(minutes);
        String hours = whole / 60 + " h";
        String rest = whole % 60 + " min";
        return whole < 60 ? rest : whole % 60 == 0 ? hours : hours + " " + rest;
    }

    /** A forecast, so whole percents, and never certain. */
    private static String chance(double chance) {
        return percents(chance) < 1 ? "under 1 %" : Figures.percent(Math.min(99, percents(chance)) / 100);
    }

    private static double percents(double chance) {
        return Math.rint(100 * chance);
    }

    /** What is counted of a question that a trial answers in more than one way. */
    private static String scope(PlannedQuestion question) {
        return switch (question) {
            case DRIVE -> ", each turn by itself (whether it costs both alike takes more circles)";
            case SIDE_BY_SIDE -> ", on the whole (single turns take more circles)";
            case LEFT_RIGHT, CLAIM, COMPLAINT -> "";
        };
    }

    private String foreseen(TrialPlan.Foreseen f) {
        String with = " with a chance of " + Figures.percent(wish.chance());
        return f.question().title() + scope(f.question())
                + ": no difference is found within the margin with a chance of "
                + chance(f.within()) + ", one of " + wording.amount(wish.difference()) + " beyond it with "
                + chance(f.beyond()) + ". The smallest difference found beyond" + with + " is "
                + wording.amount(f.smallestBeyond()) + "; "
                + (f.largestWithin().isPresent()
                        ? "the largest found within is "
                                + wording.amount(f.largestWithin().getAsDouble()) + "."
                        : "none is small enough to be found within" + with + ".");
    }

    /** {@return what the plan rests on, a line each} */
    public List<String> assumptions() {
        List<String> lines = new ArrayList<>();
        lines.add("It rests on: practical margin "
                + wording.amount(wish.conditions().practicalMargin().metres()) + ", confidence "
                + Figures.percent(wish.conditions().confidence()) + "; circles driven alike scatter by "
                + wording.amount(wish.circleRepeatability()) + " and readings of one circle by "
                + wording.amount(wish.readingRepeatability())
                + " (standard deviations). If they scatter more, it takes more circles.");
        lines.addAll(wish.conditions().assumption().sentences());
        plan.ofKnownGood().ifPresent(circles -> lines.add(knownGood(circles)));
        if (plan.deckAssumed()) {
            lines.add("The deck of a machine is not known yet: what it explains is taken as known to "
                    + wording.amount(TrialPlan.DECK_NOT_KNOWN)
                    + " (standard uncertainty). Measure the blades before the trial.");
        }
        return lines;
    }

    private String knownGood(int circles) {
        PlanWish.KnownGood good = wish.knownGood().orElseThrow();
        return "The reference, " + good.machine() + ", is a machine that turns circles too: what " + circles
                + " of each turn and"
                + " drive " + (circles == 1 ? "leaves" : "leave") + " uncertain of it is part of the plan. "
                + (plan.drivesKnownGood()
                        ? "It is driven with the others."
                        : good.circles() > 0
                                ? "It has " + (circles == 1 ? "that" : "them")
                                        + " already; if it is named as well, it is driven with the others."
                                : "They are not in the run order: name it as well, so that it is driven with the others.");
    }

    private List<String> orderLines() {
        List<Cell> order = order();
        List<String> lines = new ArrayList<>();
        for (int i = 0; i < order.size(); i++) {
            lines.add("  " + (i + 1) + "  " + order.get(i));
        }
        return lines;
    }

    /** {@return the same for programs; lengths in millimetres} */
    public String json() {
        return ResultsJson.document(this::writePlan);
    }

    private void writePlan(JsonGenerator json) throws IOException {
        json.writeObjectFieldStart("plan");
        if (!leave().isEmpty()) {
            json.writeArrayFieldStart("leave");
            for (String sentence : leave()) {
                json.writeString(sentence);
            }
            json.writeEndArray();
        }
        json.writeStringField("sentence", answer());
        json.writeStringField("basis", plan.basis().word());
        if (!givenUp().isEmpty()) {
            json.writeStringField("givenUp", givenUp());
        }
        millimetres(json, "margin", wish.conditions().practicalMargin().metres());
        json.writeNumberField("confidence", wish.conditions().confidence());
        json.writeNumberField("chanceWanted", wish.chance());
        millimetres(json, "difference", wish.difference());
        millimetres(json, "circleScatter", wish.circleRepeatability());
        millimetres(json, "readingScatter", wish.readingRepeatability());
        if (!wish.conditions().assumption().sentences().isEmpty()) {
            json.writeArrayFieldStart("assumed");
            for (String sentence : wish.conditions().assumption().sentences()) {
                json.writeString(sentence);
            }
            json.writeEndArray();
        }
        json.writeFieldName("design");
        design(json, plan.design());
        json.writeArrayFieldStart("choices");
        for (TrialPlan.Choice choice : plan.choices()) {
            json.writeStartObject();
            json.writeNumberField("chance", choice.chance());
            json.writeFieldName("design");
            if (choice.design().isPresent()) {
                design(json, choice.design().get());
            } else {
                json.writeNull();
            }
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("questions");
        for (TrialPlan.Foreseen f : plan.foreseen(plan.design())) {
            json.writeStartObject();
            json.writeStringField("question", f.question().word());
            json.writeNumberField("chanceWithin", rounded(f.within(), 4));
            json.writeNumberField("chanceBeyond", rounded(f.beyond(), 4));
            if (f.largestWithin().isPresent()) {
                millimetres(json, "largestWithin", f.largestWithin().getAsDouble());
            } else {
                json.writeNullField("largestWithin");
            }
            millimetres(json, "smallestBeyond", f.smallestBeyond());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeNumberField("seed", seed);
        json.writeArrayFieldStart("order");
        for (Cell cell : order()) {
            json.writeStartObject();
            json.writeStringField("machine", cell.machine());
            json.writeStringField("turn", cell.turn().word());
            json.writeStringField("drive", cell.drive().word());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void design(JsonGenerator json, TrialPlan.Design d) throws IOException {
        json.writeStartObject();
        json.writeNumberField("circles", d.circles());
        json.writeNumberField("readings", d.readings());
        json.writeNumberField("allCircles", d.allCircles());
        json.writeNumberField("minutes", rounded(d.minutes(), 1));
        json.writeEndObject();
    }

    private static void millimetres(JsonGenerator json, String name, double metres) throws IOException {
        json.writeNumberField(name, rounded(1000 * metres, 3));
    }

    private static double rounded(double value, int decimals) {
        return Double.parseDouble(Figures.fixed(value, decimals));
    }
}
