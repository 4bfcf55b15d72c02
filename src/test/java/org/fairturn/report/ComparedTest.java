package org.fairturn.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Finding;
import org.fairturn.finding.Question;
import org.fairturn.finding.WhatIf;
import org.fairturn.finding.Wording;
import org.fairturn.folder.TrialFolder;
import org.fairturn.trial.Trial;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ComparedTest {
    @TempDir
    Path folder;

    /** Two machines, each turned left and right in 2WD; Alder's circles are the smaller ones unless A1 is left out. */
    private Trial trial() throws IOException {
        Files.writeString(
                folder.resolve("trial.csv"), "field,value\ntitle,Lower meadow\ndate,2026-05-14\nlength unit,mm\n");
        Files.writeString(folder.resolve("machines.csv"), "machine\nAlder 22\nBasalt 25\n");
        Files.writeString(folder.resolve("circles.csv"), """
                circle,machine,turn,drive
                A1,Alder 22,left,2WD
                A2,Alder 22,left,2WD
                A3,Alder 22,right,2WD
                B1,Basalt 25,left,2WD
                B2,Basalt 25,right,2WD
                """);
        Files.writeString(
                folder.resolve("readings.csv"),
                "circle,kind,value\nA1,across,1500\nA2,across,1620\nA3,across,1600\nB1,across,1590\nB2,across,1595\n");
        return TrialFolder.read(folder).fold(read -> read.trial(), faulty -> {
            throw new AssertionError(faulty.problems());
        });
    }

    private static Finding onTheWhole(Analysis analysis) {
        return analysis.findings().stream()
                .filter(f -> f.question() == Question.SIDE_BY_SIDE
                        && "all".equals(f.subject().get("turn")))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void machinesThatChangePlaces_areComparedTheSameWayRound() throws IOException {
        Trial trial = trial();
        Analysis measured = Analysis.of(trial);
        Analysis tried =
                Analysis.of(new WhatIf(Optional.empty(), Optional.empty(), Map.of(), Set.of("A1")).appliedTo(trial));
        Finding before = onTheWhole(measured);
        Finding now = onTheWhole(tried);
        assertThat(before.subject()).containsEntry("machine", "Alder 22");
        assertThat(now.subject()).containsEntry("machine", "Basalt 25");
        Estimate e = before.estimate().orElseThrow();
        Wording wording = new Wording(LengthUnit.MILLIMETRE);
        assertThat(new Compared(measured, tried).was(now).replace('\u00a0', ' '))
                .isEqualTo("As measured: ? cannot tell yet; " + wording.signed(-e.value()) + ", "
                        + wording.range(-e.high(), -e.low()) + ".");
    }

    /** The word of the verdict is the same and its sign is not: the other machine is the tighter one now. */
    @Test
    void aVerdictThatTurns_doesNotStay() throws IOException {
        Analysis measured = Analysis.of(trial(1500, 1900));
        Analysis tried = Analysis.of(trial(1900, 1500));
        assertThat(onTheWhole(measured).verdict().word())
                .isEqualTo(onTheWhole(tried).verdict().word())
                .isEqualTo("beyond");
        assertThat(new Compared(measured, tried).sentences().stream().map(s -> s.replace('\u00a0', ' ')))
                .contains(
                        "Side by side: Alder 22, against Basalt 25, on the whole – was: ✗ beyond the margin; with this the"
                                + " same the other way round.")
                .noneMatch(s -> s.startsWith("All "));
    }

    private Trial trial(int alder, int basalt) throws IOException {
        trial();
        StringBuilder circles = new StringBuilder("circle,machine,turn,drive\n");
        StringBuilder readings = new StringBuilder("circle,kind,value\n");
        for (int i = 0; i < 8; i++) {
            boolean first = i < 4;
            circles.append(i)
                    .append(first ? ",Alder 22," : ",Basalt 25,")
                    .append(i % 2 == 0 ? "left" : "right")
                    .append(",2WD\n");
            readings.append(i)
                    .append(",across,")
                    .append((first ? alder : basalt) + i)
                    .append('\n');
        }
        Files.writeString(folder.resolve("circles.csv"), circles);
        Files.writeString(folder.resolve("readings.csv"), readings);
        return TrialFolder.read(folder).fold(read -> read.trial(), faulty -> {
            throw new AssertionError(faulty.problems());
        });
    }

    @Test
    void aTrialBesideItself_hasNothingToTell() throws IOException {
        Analysis analysis = Analysis.of(trial());
        Compared compared = new Compared(analysis, analysis);
        long leading = analysis.findings().stream().filter(analysis::leads).count();
        assertThat(compared.sentences()).containsExactly("All " + leading + " verdicts stay as they are.");
        assertThat(analysis.findings())
                .allMatch(finding -> compared.was(finding).isEmpty());
    }

    @Test
    void everyChangedVerdict_isNamedWithBoth_andTheRestCounted() throws IOException {
        Trial trial = trial();
        Analysis measured = Analysis.of(trial);
        Analysis tried = Analysis.of(
                new WhatIf(Optional.of(Length.mm(2000)), Optional.empty(), Map.of(), Set.of()).appliedTo(trial));
        assertThat(new Compared(measured, tried).sentences().stream().map(s -> s.replace('\u00a0', ' ')))
                .contains("Side by side: Alder 22, against Basalt 25, on the whole – was: ? cannot tell yet; with this:"
                        + " ✓ within the margin.")
                .last()
                .asString()
                .matches("No verdict stays as it was\\.|[0-9]+ other verdicts? stays? as (it is|they are)\\.");
    }
}
