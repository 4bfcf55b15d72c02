package org.fairturn.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.fairturn.finding.Analysis;
import org.fairturn.folder.TrialFolder;
import org.junit.jupiter.api.Test;

class BundleAgreementTest {
    private static List<String> differences(String enclosed, String anew, boolean sameProgram) {
        Optional<String> madeBy = sameProgram ? Optional.empty() : Optional.of("another program");
        return BundleAgreement.between(enclosed, anew, madeBy).differences();
    }

    /** Words may be others in another version of the program; a verdict, alone or among all questions, may not. */
    @Test
    void aChangedVerdict_isADifference_whateverTheVersion() {
        Analysis analysis = TrialFolder.read(Path.of("testdata", "metric"))
                .fold(read -> Analysis.of(read.trial()), faulty -> {
                    throw new AssertionError(faulty.problems());
                });
        String results = TrialReport.of(analysis, List.of()).resultsJson();
        assertThat(differences(results, results, false)).isEmpty();
        for (String verdict : List.of("verdict", "familyVerdict")) {
            String field = "\"" + verdict + "\" : \"";
            assertThat(results).contains(field);
            String changed = results.replaceFirst(field + "[a-zA-Z]+\"", field + "changed\"");
            for (boolean sameProgram : List.of(true, false)) {
                assertThat(differences(changed, results, sameProgram))
                        .as("%s, same program: %s", verdict, sameProgram)
                        .singleElement()
                        .asString()
                        .contains(": " + verdict + " changed in the bundle, ");
            }
        }
        String otherWords = results.replaceFirst("\"sentence\" : \"", "\"sentence\" : \"In other words: ");
        assertThat(otherWords).isNotEqualTo(results);
        assertThat(differences(otherWords, results, false)).isEmpty();
        assertThat(differences(otherWords, results, true)).hasSize(1);
    }
}
