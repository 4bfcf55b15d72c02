package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import org.fairturn.ReferenceData;
import org.fairturn.ReferenceData.Exact;
import org.fairturn.uncertainty.NormalMixture;
import org.junit.jupiter.api.Test;

/** Against values worked out at 50 digits: testdata/reference/fifty-digits. */
class DecisionDigitsTest {
    @Test
    void cantelliBound_agreesAtFiftyDigits() {
        int decided = 0;
        for (Exact row : ReferenceData.exact("fifty-digits/finding.csv", "whateverTheShape")) {
            DecisionRule rule = new DecisionRule(row.argument(0), 0.9);
            Optional<Verdict> verdict =
                    rule.whateverTheShape(row.argument(1), row.argument(2), DecisionRule.Asks.SIGNED);
            assertThat(verdict.isPresent()).as(row.toString()).isEqualTo(row.value(0) >= 0.9);
            if (verdict.isPresent()) {
                assertThat(verdict.get().probability()).as(row.toString()).isCloseTo(row.value(0), within(1e-10));
                assertThat(verdict.get().word())
                        .isEqualTo(
                                Math.abs(row.argument(1)) < row.argument(0)
                                        ? "within"
                                        : row.argument(1) > 0 ? "wider" : "tighter");
                decided++;
            }
        }
        assertThat(decided).isGreaterThan(15);
    }

    @Test
    void probabilityWithin_agreesAtFiftyDigits() {
        for (Exact row : ReferenceData.exact("fifty-digits/finding.csv", "normalWithin")) {
            double u = row.argument(2);
            NormalMixture q = new NormalMixture(new double[] {1}, new double[] {row.argument(1)}, new double[] {u * u});
            // a difference of two numbers of about 1: to 1e-14 of these, not of itself
            assertThat(new DecisionRule(row.argument(0), 0.9).chances(q).within())
                    .as(row.toString())
                    .isCloseTo(row.value(0), within(1e-14));
        }
    }
}
