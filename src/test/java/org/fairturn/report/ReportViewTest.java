package org.fairturn.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Finding;
import org.fairturn.folder.TrialFolder;
import org.junit.jupiter.api.Test;

class ReportViewTest {
    /** What stands open to see and what is folded away are read one after the other, each by itself. */
    @Test
    void asAbove_isWhatStandsAbove() {
        int said = 0;
        for (String name : List.of("demo", "complaint", "metric")) {
            Analysis analysis = TrialFolder.read(Path.of("testdata", name))
                    .fold(read -> Analysis.of(read.trial()), faulty -> {
                        throw new AssertionError(faulty.problems());
                    });
            ReportView view = ReportView.of(analysis, List.of(), List.of(), Optional.empty());
            for (ReportView.Group group : view.groups()) {
                for (List<ReportView.Answer> list : List.of(group.answers(), group.further())) {
                    for (int i = 0; i < list.size(); i++) {
                        String next = finding(list.get(i), analysis).next();
                        boolean same = i > 0
                                && next.equals(
                                        finding(list.get(i - 1), analysis).next());
                        assertThat(list.get(i).next())
                                .as("%s, %s", name, list.get(i).anchor())
                                .isEqualTo(same ? "as above." : Table.keepTogether(next));
                        said += same ? 1 : 0;
                    }
                }
            }
            assertThat(view.groups().stream().flatMap(g -> Stream.concat(g.answers().stream(), g.further().stream())))
                    .hasSameSizeAs(analysis.findings());
        }
        assertThat(said).isPositive();
    }

    private static Finding finding(ReportView.Answer answer, Analysis analysis) {
        return analysis.findings().get(Integer.parseInt(answer.anchor().substring("answer-".length())) - 1);
    }
}
