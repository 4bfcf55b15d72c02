package org.fairturn.report;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.fairturn.finding.Days;
import org.fairturn.finding.Finding;
import org.fairturn.finding.Warning;
import org.fairturn.finding.Wording;
import org.fairturn.folder.DataCode;
import org.fairturn.units.Figures;

/**
 * Everything days.html shows, in the order it shows it.
 *
 * @param title the machines and the days
 * @param foot what stands at the foot of each printed page
 * @param groups the findings, machine by machine
 * @param cautions of the work on machine and ground
 * @param warnings where and what, a line each
 * @param figures drawings with their numbers
 * @param results tables of what was found
 * @param method how it was done, a paragraph each
 * @param workings numbers put in, step by step
 * @param data tables of what was measured
 */
public record DaysView(
        String title,
        String foot,
        List<Group> groups,
        List<String> cautions,
        List<String> warnings,
        List<Figure> figures,
        List<Table> results,
        List<String> method,
        List<Working> workings,
        List<Table> data) {

    /** {@return the drawings, two abreast} */
    public List<List<Figure>> pairs() {
        return Figure.pairs(figures);
    }

    private static final int CODES_AT_FOOT = 3;

    /**
     * What is said of one machine.
     *
     * @param heading the machine
     * @param summary its repeatability and reproducibility in plain words; empty where the days cannot be compared
     * @param answers its findings
     */
    public record Group(String heading, String summary, List<ReportView.Answer> answers) {}

    static DaysView of(Days days, List<Warning> warnings, List<Figure> figures) {
        DaysTables tables = new DaysTables(days);
        return new DaysView(
                title(days),
                ReportView.foot(
                        title(days),
                        days.days().stream()
                                        .map(day -> DataCode.of(day.trial()))
                                        .limit(CODES_AT_FOOT)
                                        .collect(Collectors.joining(", "))
                                + (days.days().size() > CODES_AT_FOOT ? " and more" : "")),
                groups(days),
                Cautions.ALL,
                warnings.stream().map(w -> w.where() + ": " + w.message()).toList(),
                figures,
                tables.results().stream().filter(Table::filled).toList(),
                method(days),
                tables.workings(),
                List.of(tables.days()));
    }

    /** Such as {@code Alder 22 on 3 days, 2026-05-11 to 2026-05-16}. */
    static String title(Days days) {
        String machines =
                days.findings().stream().map(DaysView::machine).distinct().collect(Collectors.joining(", "));
        int count = days.days().size();
        return machines + " on " + count + " days, "
                + days.days().get(0).trial().conditions().date() + " to "
                + days.days().get(count - 1).trial().conditions().date();
    }

    private static String machine(Finding finding) {
        return finding.subject().get("machine");
    }

    private static List<Group> groups(Days days) {
        List<Group> groups = new ArrayList<>();
        for (String machine :
                days.findings().stream().map(DaysView::machine).distinct().toList()) {
            List<ReportView.Answer> answers = new ArrayList<>();
            String last = "";
            for (Finding finding : days.findings()) {
                if (machine(finding).equals(machine)) {
                    answers.add(ReportView.answer(
                            finding, days.confidence(), finding.next().equals(last)));
                    last = finding.next();
                }
            }
            groups.add(new Group(
                    machine + ": do the days differ?",
                    days.machines().stream()
                            .filter(m -> m.machine().equals(machine))
                            .map(m -> Table.keepTogether(m.summary()))
                            .collect(Collectors.joining()),
                    answers));
        }
        return groups;
    }

    private static List<String> method(Days days) {
        Wording wording = new Wording(days.lengthUnit());
        return List.of(
                "A day is a trial folder. Every turn and drive of a machine that was driven on two or more days is a level, a day"
                        + " is what ISO 5725-2 calls a laboratory, and the mean diameter of a circle is a test result. How"
                        + " readings become diameters is told in the report of each single trial.",
                "Repeatability s_r is the standard deviation of circles of one turn and drive on one day, all days and levels drawn"
                        + " together; s_L is the standard deviation the days add to it; reproducibility is"
                        + " s_R = √(s_r² + s_L²). The interval of s_r is that of χ², the one of s_R draws those of its two"
                        + " mean squares together (Graybill and Wang 1980). Ground and weather of a day move all its circles together, so that"
                        + " the mean square between days counts with the degrees of freedom of the days alone, however many turns"
                        + " and drives there are.",
                "How far a single day's figure can be off follows from how the days' means scatter about the mean of their level,"
                        + " with the same degrees of freedom and the assumed circle repeatability as prior, averaged over"
                        + " what that standard deviation may be.",
                "Mandel's h is a day's mean against the mean of all days in standard deviations of the days' means, k its standard"
                        + " deviation over the pooled one; a mark stands where they pass the critical value at 0.5 %. h needs"
                        + " three days to say anything, and says little of fewer than five. Cochran's test asks after the largest"
                        + " variance, Grubbs' after the farthest mean.",
                "A day is held against the mean of the others, over the turns and drives it shares with another day. The"
                        + " diameters have the repeatability all days share, averaged over what it may be; tape, eye and missed centre"
                        + " may be others on another day and do not cancel. The practical margin is "
                        + wording.amount(days.margin()) + ", the confidence asked for "
                        + Figures.percent(days.confidence())
                        + "; the rule is the one of every report, and Holm's rule counts all questions together.",
                "Sources: ISO 5725-2 and ASTM E691 (repeatability, reproducibility, h and k, Cochran, Grubbs), Graybill and Wang 1980,"
                        + " JCGM 106:2012 (decision with a guard band), Holm 1979.");
    }
}
