package org.fairturn.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.FairnessPoint;
import org.fairturn.finding.Finding;
import org.fairturn.finding.Question;
import org.fairturn.finding.Wording;
import org.fairturn.folder.TrialFolder;
import org.fairturn.trial.Conditions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class BriefTest {
    private static Analysis analysis(String name) {
        return TrialFolder.read(Path.of("testdata", name)).fold(read -> Analysis.of(read.trial()), faulty -> {
            throw new AssertionError(faulty.problems());
        });
    }

    /** Each brief carries the numbers of its finding and everything that weakens it. */
    @ParameterizedTest
    @ValueSource(strings = {"demo", "complaint", "tape-only"})
    void brief_saysNoMoreThanItsFinding(String name) {
        Analysis analysis = analysis(name);
        Wording wording = new Wording(analysis.trial().conditions().lengthUnit());
        for (Finding finding : analysis.findings()) {
            Brief brief = Brief.of(finding, analysis);
            assertThat(brief.badge()).isEqualTo(ReportView.badge(finding));
            finding.estimate()
                    .ifPresent(e -> assertThat(brief.figure().replace('\u00a0', ' '))
                            .isEqualTo(wording.signed(e.value()) + ", " + wording.range(e.low(), e.high())));
            assertThat(brief.reservations().contains("rests on the assumed repeatability"))
                    .isEqualTo(finding.restsOnAssumption());
            assertThat(brief.reservations().contains("not with all questions of this trial counted together"))
                    .isEqualTo(!finding.holdsInFamily());
            boolean falls = finding.robustness()
                    .map(r -> r.sentence().startsWith("Falls"))
                    .orElse(false);
            assertThat(brief.reservations().stream().anyMatch(r -> r.startsWith("falls")))
                    .isEqualTo(falls);
            if (finding.question() == Question.SIDE_BY_SIDE) {
                for (FairnessPoint point : analysis.sideBySide().orElseThrow().fairness()) {
                    assertThat(String.join("; ", brief.reservations()).contains(point.title()))
                            .as(point.title())
                            .isEqualTo(point.status() != FairnessPoint.Status.MET);
                }
            }
        }
    }

    /** Questions that cannot be put have fewer subjects: no turn, no machine, nobody to compare with. */
    @Test
    void whatCannotBeAskedYet_isBriefToo(@TempDir Path folder) throws IOException {
        Map<String, List<String>> files = Map.of(
                "trial.csv",
                        List.of("field,value", "title,Two that share nothing", "date,2026-05-14", "length unit,mm"),
                "machines.csv", List.of("machine", "Alder 22", "Basalt 25"),
                "circles.csv",
                        List.of(
                                "circle,machine,turn,drive,brakes",
                                "1,Alder 22,left,2WD,none",
                                "2,Basalt 25,right,2WD,none",
                                "3,Alder 22,left,2WD,used",
                                "4,Alder 22,right,2WD,used"),
                "readings.csv",
                        List.of(
                                "circle,kind,value,measurer",
                                "1,across,1600,Ann",
                                "2,across,1700,Bob",
                                "3,across,1300,Ann",
                                "4,across,1400,Ann"),
                "claims.csv", List.of("claim,who,value,quantity", "C1,brochure,2.1 m,turn radius"));
        for (Map.Entry<String, List<String>> file : files.entrySet()) {
            Files.write(folder.resolve(file.getKey()), file.getValue());
        }
        Analysis analysis = TrialFolder.read(folder).fold(read -> Analysis.of(read.trial()), faulty -> {
            throw new AssertionError(faulty.problems());
        });
        List<String> about = Brief.leading(analysis).stream().map(Brief::about).toList();
        assertThat(about)
                .contains(
                        "Basalt 25 less Alder 22, no turn and drive in common",
                        "Alder 22, 2WD: right circle less left, what stays unexplained",
                        "Alder 22, 2WD with brakes: right circle less left, what stays unexplained",
                        "Claim C1, turn radius: claim less trial")
                .doesNotHaveDuplicates()
                .noneMatch(a -> a.contains("null") || a.contains(", ,"));
        TrialReport report = TrialReport.of(analysis, List.of());
        assertThat(report.html()).contains("no turn and drive in common");
        assertThat(report.card().description()).isNotEmpty();
        assertThat(report.pdf()).isNotEmpty();
    }

    @Test
    void cause_isNamedOnlyWhereItsProbabilityReachesTheConfidence() {
        Analysis sure = analysis("complaint");
        assertThat(complaint(sure).about())
                .isEqualTo(
                        "Cedar 24 against workshop manual: most probably the left stop (98.0 %); measured less reference");
        Conditions c = sure.trial().conditions();
        Conditions strict = new Conditions(
                c.title(),
                c.date(),
                c.lengthUnit(),
                c.place(),
                c.operator(),
                c.surface(),
                c.grass(),
                c.slope(),
                c.weather(),
                c.tapeClass(),
                c.edgeDefinition(),
                c.practicalMargin(),
                0.99,
                c.assumedCircleRepeatability(),
                c.assumedReadingRepeatability(),
                c.mowingSpeed(),
                c.notes());
        assertThat(complaint(Analysis.of(sure.trial().withConditions(strict))).about())
                .isEqualTo(
                        "Cedar 24 against workshop manual: cannot tell yet what is behind it; measured less reference");
    }

    private static Brief complaint(Analysis analysis) {
        return analysis.findings().stream()
                .filter(f -> f.question() == Question.COMPLAINT && analysis.leads(f))
                .map(f -> Brief.of(f, analysis))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void card_showsTheLeadingFindings_andWhatWasMeasured() {
        Analysis analysis = analysis("tape-only");
        var card = TrialReport.of(analysis, List.of()).card();
        assertThat(card.description())
                .contains("rests on the assumed repeatability", "2 circles, 3 tape readings", "95\u00a0% intervals")
                .contains("The service manual and a qualified technician have the last word.");
        assertThat(card.png()).isPresent();
    }
}
