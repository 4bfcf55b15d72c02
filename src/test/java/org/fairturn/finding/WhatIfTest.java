package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.fairturn.folder.TrialFolder;
import org.fairturn.report.TrialReport;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.units.Length;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Every change is held against the folder with the same change typed in. */
class WhatIfTest {
    private static final Path COMPLAINT = Path.of("testdata/complaint");
    private static final Path METRIC = Path.of("testdata/metric");

    @TempDir
    Path scratch;

    private static Trial read(Path folder) {
        return TrialFolder.read(folder).fold(read -> read.trial(), faulty -> {
            throw new AssertionError(faulty.problems());
        });
    }

    /** The folder with texts replaced in its files: file, text, other text, and so on. */
    private Trial edited(Path folder, String... edits) throws IOException {
        Path copy = Files.createDirectories(scratch.resolve(folder.getFileName()));
        try (var files = Files.list(folder)) {
            for (Path file : files.toList()) {
                Files.copy(file, copy.resolve(file.getFileName()));
            }
        }
        for (int i = 0; i < edits.length; i += 3) {
            Path file = copy.resolve(edits[i]);
            String text = Files.readString(file);
            assertThat(text).contains(edits[i + 1]);
            Files.writeString(file, text.replace(edits[i + 1], edits[i + 2]));
        }
        return read(copy);
    }

    private static String results(Trial trial) {
        return TrialReport.of(Analysis.of(trial), List.of()).resultsJson();
    }

    private static WhatIf margin(Length margin) {
        return new WhatIf(Optional.of(margin), Optional.empty(), Map.of(), Set.of());
    }

    private static WhatIf deck(String machine, Length offset) {
        return new WhatIf(Optional.empty(), Optional.empty(), Map.of(machine, offset), Set.of());
    }

    private static void same(Trial tried, Trial typed) {
        assertThat(results(tried)).isEqualTo(results(typed));
    }

    @Test
    void nothing_isTheTrialItself() {
        Trial trial = read(COMPLAINT);
        assertThat(WhatIf.NOTHING.appliedTo(trial)).isSameAs(trial);
        WhatIf whatItIsAlready = new WhatIf(
                Optional.of(Length.mm(50)),
                Optional.of(Length.mm(50)),
                Map.of("Cedar 24", Length.mm(18), "no such machine", Length.mm(5)),
                Set.of("no such circle"));
        assertThat(whatItIsAlready.beside(trial)).isEqualTo(WhatIf.NOTHING);
        assertThat(whatItIsAlready.appliedTo(trial)).isSameAs(trial);
        assertThat(whatItIsAlready.sentences(trial)).isEmpty();
    }

    @Test
    void practicalMargin_asTypedIntoTheFolder() throws IOException {
        same(
                margin(Length.mm(120)).appliedTo(read(COMPLAINT)),
                edited(COMPLAINT, "trial.csv", "practical margin,50 mm", "practical margin,120 mm"));
    }

    @Test
    void assumedRepeatability_asTypedIntoTheFolder() throws IOException {
        same(
                new WhatIf(Optional.empty(), Optional.of(Length.mm(15)), Map.of(), Set.of()).appliedTo(read(COMPLAINT)),
                edited(
                        COMPLAINT,
                        "trial.csv",
                        "confidence,95 %",
                        "confidence,95 %\nassumed circle repeatability,15 mm"));
    }

    @Test
    void circlesLeftOut_asTypedIntoTheFolder() throws IOException {
        same(
                new WhatIf(Optional.empty(), Optional.empty(), Map.of(), Set.of("C2", "C7")).appliedTo(read(COMPLAINT)),
                edited(
                        COMPLAINT,
                        "circles.csv",
                        "C2,Cedar 24,right,2WD,2,2,none,yes",
                        "C2,Cedar 24,right,2WD,2,2,none,no",
                        "circles.csv",
                        "C7,Cedar 24,left,4WD,7,2,none,yes",
                        "C7,Cedar 24,left,4WD,7,2,none,no"));
    }

    @Test
    void deckOffset_movesItsBladesToo_asTypedIntoTheFolder() throws IOException {
        same(
                deck("Cedar 24", Length.mm(38)).appliedTo(read(COMPLAINT)),
                edited(
                        COMPLAINT,
                        "machines.csv",
                        ",58,58,18,",
                        ",58,58,38,",
                        "blades.csv",
                        "700,478,240",
                        "700,498,240",
                        "blades.csv",
                        "880,18,240",
                        "880,38,240",
                        "blades.csv",
                        "700,-442,240",
                        "700,-422,240"));
    }

    @Test
    void anOffsetThatOnlyTheBladesTell_staysUnstated() throws IOException {
        // outermost tips 407 + 232 and −467 − 234: their middle lies 31 mm to the right
        Trial trial = read(METRIC);
        assertThat(WhatIf.deckOffset(trial.machines().get(0)).getAsDouble()).isCloseTo(-0.031, within(1e-12));
        Trial moved = deck("Slate 24", Length.mm(-11)).appliedTo(trial);
        assertThat(moved.machines().get(0).deckOffset()).isEmpty();
        same(
                moved,
                edited(
                        METRIC,
                        "blades.csv",
                        "642,407,232",
                        "642,427,232",
                        "blades.csv",
                        "828,-36,232",
                        "828,-16,232",
                        "blades.csv",
                        "635,-467,234",
                        "635,-447,234"));
    }

    @Test
    void anOffsetNobodyKnew_isStated() throws IOException {
        Trial trial = Trials.inMillimetres()
                .machine("Alder 22")
                .circle("A1", Turn.LEFT, Drive.TWO_WHEEL, 1500, 1510)
                .circle("A2", Turn.RIGHT, Drive.TWO_WHEEL, 1700, 1690)
                .trial();
        WhatIf whatIf = deck("Alder 22", Length.mm(-40));
        same(
                whatIf.appliedTo(trial),
                Trials.inMillimetres()
                        .machine("Alder 22")
                        .deckOffset(-40)
                        .circle("A1", Turn.LEFT, Drive.TWO_WHEEL, 1500, 1510)
                        .circle("A2", Turn.RIGHT, Drive.TWO_WHEEL, 1700, 1690)
                        .trial());
        assertThat(whatIf.sentences(trial))
                .containsExactly("Deck of Alder 22 40.0 mm (1.57 in) to the right; so far it is not known.");
    }

    @Test
    void allAtOnce_asOneAfterTheOther() {
        Trial trial = read(COMPLAINT);
        WhatIf out = new WhatIf(Optional.empty(), Optional.empty(), Map.of(), Set.of("C1"));
        WhatIf all = new WhatIf(
                Optional.of(Length.mm(30)), Optional.empty(), Map.of("Cedar 24", Length.mm(30)), Set.of("C1"));
        assertThat(all.appliedTo(trial))
                .isEqualTo(margin(Length.mm(30))
                        .appliedTo(deck("Cedar 24", Length.mm(30)).appliedTo(out.appliedTo(trial))));
    }

    @Test
    void everyCircleLeftOut_leavesAnswersAndNoTrace() {
        Trial trial = read(COMPLAINT);
        Set<String> all = Set.copyOf(trial.circles().stream().map(Circle::id).toList());
        Analysis analysis = Analysis.of(new WhatIf(Optional.empty(), Optional.empty(), Map.of(), all).appliedTo(trial));
        assertThat(analysis.cells()).isEmpty();
        assertThat(trial.circles()).allMatch(Circle::use);
    }

    @Test
    void itsSentences_sayWhatIsTriedInsteadOfWhat() {
        Trial trial = read(COMPLAINT);
        assertThat(new WhatIf(
                                Optional.of(Length.mm(30)),
                                Optional.of(Length.mm(50.2)),
                                Map.of("Cedar 24", Length.mm(-2)),
                                Set.of("C8", "C2"))
                        .sentences(trial))
                .containsExactly(
                        "Practical margin 30 mm (1.2 in) instead of 50 mm (2.0 in).",
                        "Assumed circle repeatability 50.2 mm (1.98 in) instead of 50.0 mm (1.97 in).",
                        "Deck of Cedar 24 2.0 mm (0.08 in) to the right instead of 18.0 mm (0.71 in) to the left.",
                        "Circles C2, C8 left out.");
    }
}
