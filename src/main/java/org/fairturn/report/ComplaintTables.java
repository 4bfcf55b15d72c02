package org.fairturn.report;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Complaint;
import org.fairturn.finding.Wording;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.Figures;

/** The tables of complaints: each machine held against its reference, what may be behind it, and what to look at next. */
final class ComplaintTables {
    private static final String NONE = "–";

    private final Analysis analysis;
    private final Wording wording;

    ComplaintTables(Analysis analysis) {
        this.analysis = analysis;
        this.wording = new Wording(analysis.trial().conditions().lengthUnit());
    }

    List<Table> all() {
        return analysis.complaints().stream()
                .flatMap(c -> Stream.of(compared(c), causes(c), checks(c)))
                .toList();
    }

    private static String title(Complaint complaint) {
        return complaint.machine() + " held against " + complaint.source();
    }

    private Table compared(Complaint complaint) {
        List<List<String>> rows = new ArrayList<>();
        for (Complaint.Compared c : complaint.compared()) {
            Estimate q = c.excess();
            rows.add(List.of(
                    Drawings.name(c.cell()),
                    wording.amount(c.reference()) + (c.workedOut() ? ", worked out from the other turn" : ""),
                    wording.amount(c.reference() + q.value()),
                    wording.signed(q),
                    wording.interval(q)));
        }
        return new Table(
                title(complaint) + ": measured less reference",
                List.of(
                        "Turn, drive",
                        "Reference",
                        "Measured",
                        "Excess",
                        Figures.percent(analysis.trial().conditions().confidence()) + " interval"),
                rows);
    }

    private Table causes(Complaint complaint) {
        List<String> headings = new ArrayList<>(
                List.of("Cause", "Probability", "Speaks for it", "Speaks against it", "How big, were it this one"));
        complaint.compared().forEach(c -> headings.add("Makes of " + Drawings.name(c.cell())));
        List<List<String>> rows = new ArrayList<>();
        for (Complaint.Cause cause : complaint.causes()) {
            List<String> row = new ArrayList<>(List.of(cause.name(), probability(cause.probability())));
            row.add(listed(cause.speaksFor()));
            row.add(listed(cause.against()));
            row.add(cause.size().map(Complaint.Size::words).orElse(NONE));
            cause.effects().forEach(e -> row.add(wording.signed(e)));
            rows.add(row);
        }
        return new Table(title(complaint) + ": what may be behind it, the likeliest first", headings, rows);
    }

    /** A tape in the grass makes nothing certain and rules nothing out, however a number rounds. */
    static String probability(double p) {
        return Figures.percent(Math.max(0.0001, Math.min(0.9999, p)));
    }

    private static String listed(List<String> words) {
        return words.isEmpty() ? NONE : String.join("; ", words);
    }

    private static Table checks(Complaint complaint) {
        return new Table(
                title(complaint)
                        + ": what to look at next, by how much it is expected to tell (1 bit is the answer to an open"
                        + " yes-or-no question)",
                List.of("Check", "Expected information", "How"),
                complaint.checks().stream()
                        .map(c -> List.of(c.name(), Figures.fixed(c.bits(), 2) + " bit", c.how()))
                        .toList());
    }
}
