package org.fairturn.web;

import io.javalin.http.Context;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.fairturn.finding.WhatIf;
import org.fairturn.finding.Wording;
import org.fairturn.folder.TypedLength;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Trial;
import org.fairturn.units.Length;

/**
 * What somebody wants to try, as it stands in an address: nothing of it is saved.
 *
 * @param whatIf what can be read of it, without what the trial has already
 * @param query the address's part from the question mark on, of what changes something; empty where nothing does
 * @param lengths what can be tried
 * @param circles which can be left out
 * @param faults what could not be read
 */
public record WhatIfForm(
        WhatIf whatIf, String query, List<Field> lengths, List<Group> circles, List<Page.Fault> faults) {
    private static final String MARGIN = "margin";
    private static final String REPEATABILITY = "repeatability";
    private static final String DECK = "deck-";
    private static final String OUT = "out";

    /**
     * Keeps its own copy of each list.
     *
     * @param whatIf what can be read of it, without what the trial has already
     * @param query the address's part from the question mark on, of what changes something; empty where nothing does
     * @param lengths what can be tried
     * @param circles which can be left out
     * @param faults what could not be read
     */
    public WhatIfForm {
        lengths = List.copyOf(lengths);
        circles = List.copyOf(circles);
        faults = List.copyOf(faults);
    }

    /**
     * The circles driven one way that count.
     *
     * @param name turn, drive and machine
     * @param circles that count
     */
    public record Group(String name, List<Choice> circles) {}

    /**
     * A circle that may be left out.
     *
     * @param id of its box on the page
     * @param circle id
     * @param out whether it is left out
     */
    public record Choice(String id, String circle, boolean out) {}

    static WhatIfForm of(Context context, Trial trial) {
        return new Reading(context, trial).form();
    }

    /** Reads one address. */
    private static final class Reading {
        private final Context context;
        private final Trial trial;
        private final Wording wording;
        private final List<Field> lengths = new ArrayList<>();
        private final List<Page.Fault> faults = new ArrayList<>();

        Reading(Context context, Trial trial) {
            this.context = context;
            this.trial = trial;
            this.wording = new Wording(trial.conditions().lengthUnit());
        }

        WhatIfForm form() {
            Conditions stated = trial.conditions();
            Optional<Length> margin = length(
                    Field.text(
                            MARGIN,
                            "Practical margin",
                            "The smallest difference that matters. In the trial: "
                                    + wording.amount(stated.practicalMargin().metres()) + "."),
                    TypedLength.PRACTICAL_MARGIN);
            Optional<Length> repeatability = length(
                    Field.text(
                            REPEATABILITY,
                            "Assumed circle repeatability",
                            "How far circles driven alike are expected to scatter. In the trial: "
                                    + wording.amount(
                                            stated.assumedCircleRepeatability().metres())
                                    + "."),
                    TypedLength.CIRCLE_REPEATABILITY);
            Map<String, Length> decks = new LinkedHashMap<>();
            Set<String> parameters = new LinkedHashSet<>();
            for (Machine machine : trial.machines()) {
                String name = DECK + Slug.of(machine.id());
                parameters.add(name);
                length(Field.text(name, "Deck offset of " + machine.id(), deckHelp(machine)), TypedLength.DECK_OFFSET)
                        .ifPresent(offset -> decks.put(machine.id(), offset));
            }
            context.queryParamMap().keySet().stream()
                    .filter(name -> name.startsWith(DECK) && !parameters.contains(name))
                    .forEach(name -> faults.add(new Page.Fault(
                            "",
                            "Deck offset: read \"" + name
                                    + "\"; accepted: a machine of this trial. It may have been renamed"
                                    + " since this address was made.")));
            Set<String> out = out();
            WhatIf changes = new WhatIf(margin, repeatability, decks, out).beside(trial);
            return new WhatIfForm(
                    changes,
                    query(changes),
                    lengths.stream().map(field -> field.with(faults)).toList(),
                    groups(changes.circlesLeftOut()),
                    faults);
        }

        private String typed(String name) {
            return Optional.ofNullable(context.queryParam(name)).orElse("").strip();
        }

        private Optional<Length> length(Field field, TypedLength kind) {
            String typed = typed(field.name());
            lengths.add(field.with(typed));
            if (typed.isEmpty()) {
                return Optional.empty();
            }
            return kind.read(typed, trial.conditions().lengthUnit()).fold(Optional::of, fault -> {
                faults.add(new Page.Fault(field.id(), field.label() + ": " + fault));
                return Optional.empty();
            });
        }

        private String deckHelp(Machine machine) {
            OptionalDouble known = WhatIf.deckOffset(machine);
            return (known.isEmpty()
                            ? "Not known so far. "
                            : "In the trial: " + wording.fineSigned(known.getAsDouble()) + ". ")
                    + "+ to the left, - to the right."
                    + (machine.blades().isEmpty() ? "" : " Its blades move along.");
        }

        private Set<String> out() {
            List<String> known = trial.circles().stream().map(Circle::id).toList();
            Set<String> out = new LinkedHashSet<>();
            for (String id : context.queryParams(OUT)) {
                if (known.contains(id)) {
                    out.add(id);
                } else {
                    faults.add(new Page.Fault(
                            "",
                            "Circles left out: read \"" + id
                                    + "\"; accepted: circles of this trial. It may have been renamed"
                                    + " since this address was made."));
                }
            }
            return out;
        }

        private List<Group> groups(Set<String> out) {
            Map<Cell, List<Choice>> byCell = new LinkedHashMap<>();
            trial.circles().stream()
                    .filter(Circle::use)
                    .forEach(c -> byCell.computeIfAbsent(c.cell(), cell -> new ArrayList<>())
                            .add(new Choice("out-" + Slug.of(c.id()), c.id(), out.contains(c.id()))));
            return byCell.entrySet().stream()
                    .sorted(Map.Entry.comparingByKey(order()))
                    .map(entry -> new Group(entry.getKey().toString(), entry.getValue()))
                    .toList();
        }

        /** In the order of the results: by machine, 2WD before 4WD, left before right. */
        private Comparator<Cell> order() {
            List<String> machines = trial.machines().stream().map(Machine::id).toList();
            return Comparator.comparing((Cell cell) -> machines.indexOf(cell.machine()))
                    .thenComparing(Cell::brakes)
                    .thenComparing(Cell::drive)
                    .thenComparing(Cell::turn);
        }

        private String query(WhatIf changes) {
            List<String> parts = new ArrayList<>();
            changes.practicalMargin().ifPresent(m -> parts.add(part(MARGIN, typed(MARGIN))));
            changes.assumedCircleRepeatability().ifPresent(r -> parts.add(part(REPEATABILITY, typed(REPEATABILITY))));
            for (Machine machine : trial.machines()) {
                String name = DECK + Slug.of(machine.id());
                if (changes.deckOffsets().containsKey(machine.id())) {
                    parts.add(part(name, typed(name)));
                }
            }
            trial.circles().stream()
                    .map(Circle::id)
                    .filter(changes.circlesLeftOut()::contains)
                    .forEach(id -> parts.add(part(OUT, id)));
            return parts.isEmpty() ? "" : "?" + String.join("&", parts);
        }

        private static String part(String name, String value) {
            return name + "=" + URLEncoder.encode(value, StandardCharsets.UTF_8);
        }
    }
}
