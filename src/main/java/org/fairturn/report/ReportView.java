package org.fairturn.report;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.fairturn.chart.Drawing;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Finding;
import org.fairturn.finding.Question;
import org.fairturn.finding.Robustness;
import org.fairturn.finding.Warning;
import org.fairturn.finding.Wording;
import org.fairturn.folder.DataCode;
import org.fairturn.trial.Conditions;
import org.fairturn.units.Figures;

/**
 * Everything report.html shows, in the order it shows it.
 *
 * @param title of the trial
 * @param lead what stands above the findings
 * @param foot what stands at the foot of each printed page
 * @param facts date, place and the like, a pair of name and value each
 * @param briefs the findings that are read first, a line or two each
 * @param groups the findings, question by question
 * @param diameters the uncut circle of each cell
 * @param cautions of the work on machine and ground
 * @param warnings where and what, a line each
 * @param figures drawings with their numbers
 * @param chartsMissing one line where charts could not be drawn
 * @param fairness what both sides would ask of a comparison; empty where there is none. It stands among the results too
 * @param results tables of what was found
 * @param method how it was done, a paragraph each
 * @param workings numbers put in, step by step
 * @param data tables of what was measured
 */
public record ReportView(
        String title,
        String lead,
        String foot,
        List<Table> facts,
        List<Brief> briefs,
        List<Group> groups,
        Table diameters,
        List<String> cautions,
        List<String> warnings,
        List<Figure> figures,
        Optional<String> chartsMissing,
        List<Table> fairness,
        List<Table> results,
        List<String> method,
        List<Working> workings,
        List<Table> data) {

    /** {@return the drawings, two abreast} */
    public List<List<Figure>> pairs() {
        return Figure.pairs(figures);
    }

    /**
     * The findings on one question.
     *
     * @param heading the question
     * @param answers that are open to see
     * @param further answers to the same question that are folded away
     */
    public record Group(String heading, List<Answer> answers, List<Answer> further) {}

    /**
     * One finding.
     *
     * @param kind within, beyond, cannotTell or notPossible, for its look
     * @param badge the verdict in a word or two
     * @param sentence the answer
     * @param support how far an open question is from a verdict, or what would overturn the verdict there is; empty where the
     *     sentence says all
     * @param next what to do now; “as above.” where an earlier finding asks for the same
     * @param was what was found as measured, where this was found with something tried and is another; empty otherwise
     * @param anchor where a page has it; empty where nothing leads there
     */
    public record Answer(
            String kind, String badge, String sentence, String support, String next, String was, String anchor) {
        Answer(String kind, String badge, String sentence, String support, String next) {
            this(kind, badge, sentence, support, next, "", "");
        }

        Answer besideWhatWas(String found) {
            return new Answer(kind, badge, sentence, support, next, found, anchor);
        }

        Answer at(String place) {
            return new Answer(kind, badge, sentence, support, next, was, place);
        }
    }

    /** {@return where a page has a finding} */
    static String anchor(Finding finding, Analysis analysis) {
        return "answer-" + (analysis.findings().indexOf(finding) + 1);
    }

    /**
     * For a page whose drawings are fetched on their own.
     *
     * @param folder address of the folder they are fetched from
     * @param query what follows their names; empty where nothing does
     */
    public record Linked(String folder, String query) {
        /**
         * {@return the address of a drawing}
         *
         * @param figure one of the report
         */
        public String address(Figure figure) {
            return folder + "/" + figure.drawing().name() + ".svg" + query;
        }
    }

    static ReportView of(
            Analysis analysis, List<Warning> warnings, List<Figure> figures, Optional<String> chartsMissing) {
        return of(analysis, warnings, figures, chartsMissing, Optional.empty());
    }

    /**
     * The same.
     *
     * @param measured the trial as it was measured, where the analysis is of one with something tried
     */
    static ReportView of(
            Analysis analysis,
            List<Warning> warnings,
            List<Figure> figures,
            Optional<String> chartsMissing,
            Optional<Analysis> measured) {
        Tables tables = new Tables(analysis);
        return new ReportView(
                analysis.trial().conditions().title(),
                measured.isPresent() ? "What this trial would show" : "What this trial shows",
                foot(analysis.trial().conditions().title(), DataCode.of(analysis.trial())),
                List.of(tables.conditions()),
                Brief.leading(analysis),
                groups(analysis, measured.map(real -> new Compared(real, analysis))),
                tables.diameters(),
                Cautions.ALL,
                warnings.stream().map(w -> w.where() + ": " + w.message()).toList(),
                figures,
                chartsMissing,
                analysis.sideBySide().stream()
                        .map(s -> new SideBySideTables(analysis.trial().conditions(), s).fairness())
                        .filter(Table::filled)
                        .toList(),
                tables.results().stream().filter(Table::filled).toList(),
                method(analysis),
                Workings.of(analysis),
                tables.data().stream().filter(Table::filled).toList());
    }

    /** Titles are as long as people make them, the foot of a page is not. */
    static String foot(String title, String dataCode) {
        return Drawing.cut(title, 72) + " · data " + dataCode;
    }

    private static List<Group> groups(Analysis analysis, Optional<Compared> compared) {
        double confidence = analysis.trial().conditions().confidence();
        List<Group> groups = new ArrayList<>();
        for (Question question : Question.values()) {
            List<Answer> answers = new ArrayList<>();
            List<Answer> further = new ArrayList<>();
            Map<Boolean, String> last = new HashMap<>(); // of those that are open to see, and of those folded away
            for (Finding finding : analysis.findings()) {
                if (finding.question() == question) {
                    boolean leads = analysis.leads(finding);
                    boolean sameNext = finding.next().equals(last.put(leads, finding.next()));
                    (leads ? answers : further)
                            .add(answer(finding, confidence, sameNext)
                                    .besideWhatWas(
                                            compared.map(c -> c.was(finding)).orElse(""))
                                    .at(anchor(finding, analysis)));
                }
            }
            if (!answers.isEmpty()) {
                groups.add(new Group(question.title(), answers, further));
            }
        }
        return groups;
    }

    private static final Map<String, String> BADGES = Map.of(
            "within", "✓ within the margin",
            "beyond", "✗ beyond the margin",
            "wider", "▲ wider",
            "tighter", "▼ tighter",
            "cannotTell", "? cannot tell yet",
            "notPossible", "– not possible yet");

    /** The verdict in a word or two. */
    static String badge(Finding finding) {
        // a stop without contact is no open question but a fault, whatever the turning results say
        return finding.subject().containsKey("stop")
                ? "⚠ mend this first"
                : BADGES.get(finding.verdict().word());
    }

    static Answer answer(Finding finding, double confidence, boolean sameNext) {
        return new Answer(
                finding.subject().containsKey("stop")
                        ? "beyond"
                        : finding.verdict().word(),
                badge(finding),
                Table.keepTogether(finding.sentence()),
                support(finding, confidence),
                sameNext ? "as above." : Table.keepTogether(finding.next()));
    }

    /** What the sentence leaves out: how far an open question is from a verdict, and how sure a verdict is. */
    private static String support(Finding finding, double confidence) {
        String sure = finding.robustness()
                .map(Robustness::sentence)
                .map(Table::keepTogether)
                .orElse("");
        return finding.verdict()
                .fold(
                        w -> sure,
                        b -> sure,
                        c -> "The likeliest answer has a probability of " + Figures.percent(c.probability())
                                + "; a verdict needs " + Figures.percent(confidence) + ".",
                        n -> "");
    }

    private static String learnt(Conditions conditions) {
        return conditions.assumption().circle().isEmpty()
                        && conditions.assumption().reading().isEmpty()
                ? ""
                : "; where n past trials taught it, ln σ is normal as they showed it with probability n/(n + 1), and as just"
                        + " said otherwise";
    }

    private static List<String> method(Analysis analysis) {
        Conditions conditions = analysis.trial().conditions();
        Wording wording = new Wording(conditions.lengthUnit());
        return List.of(
                "Each reading becomes a diameter D: a tape laid across through the judged centre with a small correction for"
                        + " missing the centre, a chord c and its rise h by c²/(4h) + h, three stakes by the circle through"
                        + " them, points along the edge by the circle that lies nearest to them (least squares of distances).",
                "A cell is one machine turning one way in one drive. Its circles scatter about the cell's true diameter with a"
                        + " circle-to-circle standard deviation σ_b, its readings about their circle with a"
                        + " reading-to-reading standard deviation σ_w; both are shared by all cells of a machine. What is"
                        + " known of σ_b and σ_w is the restricted likelihood of this trial times a prior (half of a t"
                        + " distribution with 4 degrees of freedom, scale "
                        + wording.amount(conditions.assumedCircleRepeatability().metres()) + " for σ_b and "
                        + wording.amount(
                                conditions.assumedReadingRepeatability().metres())
                        + " for σ_w" + learnt(conditions)
                        + "). Every interval is averaged over what they may be. A result is marked as resting on the"
                        + " assumed repeatability where more than half of its uncertainty would follow the prior if the prior"
                        + " were changed. Beside each difference stands the interval that the data give with no assumed"
                        + " repeatability at all, where there are enough circles (analysis of variance, degrees of freedom after"
                        + " Satterthwaite).",
                "Tape class, how well the cut edge can be seen, and the missed centre move all diameters of a trial the same"
                        + " way. They widen each diameter's interval and cancel in differences as far as they are alike.",
                "A reading is named as far from its circle, and a circle from its cell, where so large a gap would be rarer than"
                        + " the false alarms allowed (one sound trial in a hundred, shared out among all that were looked at), with"
                        + " the repeatability worked out without it; with one sample and no prior this is Grubbs' test. Labels look"
                        + " swapped where exchanging them is a hundred times likelier, for each pair looked at, by the Bayes"
                        + " factor. Drift and ovals are slopes with their 99 % interval. Each verdict was tried again without each"
                        + " circle and reading, with the assumed repeatability halved and doubled, and with each deck two standard"
                        + " uncertainties to either side.",
                "The turn radius R, from the turn centre to the midpoint of the rear axle, leaves an uncut disc of"
                        + " D = 2·(√((x − c)² + (R − s·y)²) − r), taken over the blade (x ahead of the rear axle, y left of the"
                        + " centreline, tip radius r) whose tip comes nearest to the turn centre; s is +1 turning left and −1"
                        + " turning right, c is how far the turn centre lies ahead of the axle line. Solved for R, this tells"
                        + " the turn radius that left a disc. The deck's part of a left–right difference is what the blades"
                        + " alone make of it at the mean of the two radii.",
                "Two machines are held against each other cell by cell and by the mean over the cells both were driven in without"
                        + " brakes. Each keeps its own repeatability; what tape, eye and method put on both cancels. At the mean"
                        + " of their turn radii the decks alone make a difference, the reach of the deck; the rest is the"
                        + " chassis's. Mowing times are the uncut area over cutting width times speed; how long trimming by hand"
                        + " takes is not said, for it hangs on tool and hand. Those who measured are"
                        + " compared on circles two or more of them laid the tape straight across, by least squares for circle"
                        + " and measurer.",
                "A question has a quantity q, a practical margin m ("
                        + wording.amount(conditions.practicalMargin().metres())
                        + ") and a confidence asked for (" + Figures.percent(conditions.confidence())
                        + "). Within the margin: P(|q| ≤ m) reaches it. Beyond, wider or tighter: P(q > m) or P(q < −m)"
                        + " reaches it. Otherwise the trial cannot tell yet. Where several questions are asked at once,"
                        + " the verdicts are also held to that confidence all together (Holm's rule).",
                "A claim is held against the trial as an uncut diameter, in every turn and drive it leaves open. ζ is claim less trial"
                        + " over the standard uncertainty of the difference; |ζ| up to 2 is satisfactory (ISO 13528). E_n, the same"
                        + " with both uncertainties expanded by k = 2, is half of ζ and says nothing further. A turning circle (ISO 789-3) is"
                        + " taken as what the centre plane of the outer front wheel draws. A figure with brakes is never"
                        + " converted to one without.",
                "Sources: JCGM 100:2008 (uncertainty), JCGM 106:2012 (decision with a guard band), ISO 5725-2 and ASTM E691"
                        + " (repeatability, reproducibility, h and k),"
                        + " OIML R 35-1 (tape classes), Gander, Golub and Strebel 1994 (circle fit), Patterson and Thompson"
                        + " 1971 (restricted likelihood), Holm 1979. The taking apart of the left–right difference is our"
                        + " own; all of it is worked out below with the numbers put in.");
    }
}
