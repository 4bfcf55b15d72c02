package org.fairturn.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.fairturn.chart.ResultCard;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Question;
import org.fairturn.folder.TrialFolder;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CardContentTest {
    @TempDir
    Path folder;

    /** Left against right has a verdict, but what has to be mended comes before it. */
    @Test
    void theCardBeginsWithAStopThatDoesNotTouch() throws IOException {
        Map<String, String> files = Map.of(
                "trial.csv",
                "field,value\ntitle,Lower meadow\ndate,2026-05-14\nlength unit,mm\n",
                "machines.csv",
                "machine,deck offset\nAlder 22,0\n",
                "stops.csv",
                "machine,side,specified,found,touches axle\nAlder 22,left,28,28,yes\nAlder 22,right,28,28,no\n",
                "circles.csv",
                """
                circle,machine,turn,drive
                1,Alder 22,left,2WD
                2,Alder 22,left,2WD
                3,Alder 22,right,2WD
                4,Alder 22,right,2WD
                """,
                "readings.csv",
                "circle,kind,value\n1,across,1600\n2,across,1605\n3,across,2600\n4,across,2605\n");
        for (Map.Entry<String, String> file : files.entrySet()) {
            Files.writeString(folder.resolve(file.getKey()), file.getValue());
        }
        Analysis analysis = TrialFolder.read(folder).fold(read -> Analysis.of(read.trial()), faulty -> {
            throw new AssertionError(faulty.problems());
        });
        assertThat(analysis.findings())
                .anyMatch(
                        f -> f.question() == Question.LEFT_RIGHT && f.verdict().decided());
        List<ResultCard.Entry> entries = CardContent.of(analysis).entries();
        assertThat(entries.get(0).badge()).isEqualTo("⚠ mend this first");
        assertThat(entries.get(0).about()).isEqualTo("Alder 22: the right stop does not touch the axle at full lock");
    }
}
