package org.fairturn.report;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.fairturn.finding.SideBySide;
import org.fairturn.finding.Wording;
import org.fairturn.trial.Conditions;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.Figures;
import org.fairturn.units.Speed;

/** The tables that hold machines against each other. */
final class SideBySideTables {
    private static final String NONE = "–";
    private static final double FOOT = 0.3048;

    private final SideBySide sideBySide;
    private final Conditions conditions;
    private final Wording wording;

    SideBySideTables(Conditions conditions, SideBySide sideBySide) {
        this.sideBySide = sideBySide;
        this.conditions = conditions;
        this.wording = new Wording(conditions.lengthUnit());
    }

    List<Table> all() {
        return List.of(differences(), ranking(), fairness(), headland(), areas());
    }

    private String level() {
        return Figures.percent(conditions.confidence());
    }

    private Table differences() {
        return new Table(
                "Side by side: how much larger a machine's circle is, chassis and deck apart",
                List.of(
                        "Difference",
                        "Estimate",
                        level() + " interval",
                        level() + " interval from the data alone",
                        "Chassis",
                        "Reach of the deck",
                        "Turn radius",
                        "Rests on"),
                sideBySide.compared().stream()
                        .map(c -> List.of(
                                c.other().machine() + " less " + c.machine().machine() + ", "
                                        + Drawings.name(c.machine()),
                                wording.signed(c.difference()),
                                interval(c.difference()),
                                c.dataOnly().map(d -> interval(d.estimate())).orElse("none: too few circles"),
                                c.apart().map(a -> withInterval(a.chassis())).orElse(NONE),
                                c.apart().map(a -> withInterval(a.deckReach())).orElse(NONE),
                                c.apart().map(a -> withInterval(a.turnRadius())).orElse(NONE),
                                c.restsOnAssumption() ? "assumed repeatability" : "this trial"))
                        .toList());
    }

    private String interval(Estimate e) {
        return wording.interval(e);
    }

    private String withInterval(Estimate e) {
        return wording.signed(e) + ", " + interval(e);
    }

    private Table ranking() {
        List<String> headings = new ArrayList<>(List.of("Machine", "Mean diameter", level() + " interval"));
        for (int place = 1; place <= sideBySide.ranking().size(); place++) {
            headings.add("In place " + place);
        }
        return new Table(
                "Ranking by the mean uncut diameter over "
                        + sideBySide.rankedOver().stream().map(Drawings::name).collect(Collectors.joining(", "))
                        + "; probability of each place, the first being the tightest",
                headings,
                sideBySide.ranking().stream().map(this::standing).toList());
    }

    private List<String> standing(SideBySide.Standing standing) {
        List<String> row = new ArrayList<>(List.of(
                standing.machine(), wording.amount(standing.diameter()), wording.sizeInterval(standing.diameter())));
        // a tape in the grass makes nothing certain, however a number rounds
        standing.places().forEach(p -> row.add(Figures.percent(Math.max(0.0001, Math.min(0.9999, p)))));
        return row;
    }

    Table fairness() {
        return new Table(
                "Fairness list: what both sides should ask before they believe a comparison",
                List.of("Point", "In this trial", "Why"),
                sideBySide.fairness().stream()
                        .map(p -> List.of(p.title(), p.status().word(), p.detail()))
                        .toList());
    }

    private Table headland() {
        return new Table(
                "Which way to turn at the headland",
                List.of("Machine, drive", "Turn", "Right less left", level() + " interval"),
                sideBySide.headland().stream()
                        .map(h -> List.of(
                                h.machine() + ", " + h.drive().word(),
                                h.verdict()
                                        .<String>fold(
                                                w -> "either way",
                                                b -> "to the "
                                                        + h.tighter()
                                                                .orElseThrow()
                                                                .word(),
                                                c -> "cannot tell yet",
                                                n -> NONE),
                                wording.signed(h.difference()),
                                interval(h.difference())))
                        .toList());
    }

    private Table areas() {
        Speed speed = conditions.mowingSpeed().orElse(Conditions.ASSUMED_MOWING_SPEED);
        String shown = conditions.lengthUnit().isInch()
                ? speed.asMilesPerHour() + " (" + speed.asKilometresPerHour() + ")"
                : speed.asKilometresPerHour() + " (" + speed.asMilesPerHour() + ")";
        return new Table(
                "Grass each full circle leaves standing, π/4·D², and the time to go back and mow it at " + shown
                        + (conditions.mowingSpeed().isPresent() ? "" : ", which is assumed")
                        + ": the area over cutting width times speed, without the way there and without turning",
                List.of(
                        "Machine, turn, drive",
                        "Area",
                        level() + " interval",
                        "Cutting width",
                        "Mowing, each turn",
                        "Mowing, 100 turns"),
                sideBySide.uncut().stream().map(this::uncut).toList());
    }

    private List<String> uncut(SideBySide.Uncut uncut) {
        SideBySide.Area area = uncut.area();
        return List.of(
                uncut.cell().toString(),
                area(area.value()),
                area(area.low()) + " to " + area(area.high()),
                uncut.mowing().map(m -> wording.amount(m.width())).orElse("the blades are not known"),
                uncut.mowing().map(m -> time(m.seconds())).orElse(NONE),
                uncut.mowing().map(m -> time(100 * m.seconds())).orElse(NONE));
    }

    /** Such as {@code 1.4 s} or {@code 2 min 20 s}. */
    static String time(double seconds) {
        long whole = Math.round(seconds);
        return whole < 60
                ? Figures.fixed(seconds, 1) + " s"
                : whole / 60 + " min" + (whole % 60 == 0 ? "" : " " + whole % 60 + " s");
    }

    private String area(double square) {
        String metric = Figures.fixed(square, 2) + " m²";
        String feet = Figures.fixed(square / (FOOT * FOOT), 1) + " sq ft";
        return conditions.lengthUnit().isInch() ? feet + " (" + metric + ")" : metric + " (" + feet + ")";
    }
}
