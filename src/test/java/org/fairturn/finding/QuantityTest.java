package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.NormalMixture;
import org.junit.jupiter.api.Test;

/** Margin 50 mm, confidence 95 %, and quantities with one normal standard uncertainty of 20 mm. */
class QuantityTest {
    private static final DecisionRule RULE = new DecisionRule(0.05, 0.95);

    /** Of which it is counted how often the shape of its distribution was asked for. */
    private static class Normal implements Quantity {
        private final double mean;
        private int shapeAsked;

        Normal(double mean) {
            this.mean = mean;
        }

        @Override
        public NormalMixture mixture() {
            return new NormalMixture(new double[] {1}, new double[] {mean}, new double[] {0.02 * 0.02});
        }

        @Override
        public Estimate estimate() {
            return mixture().estimate(0.95);
        }

        @Override
        public boolean restsOnAssumption() {
            return false;
        }

        @Override
        public NormalMixture mixtureIf(double sigmaB) {
            return mixture();
        }

        @Override
        public Outlook outlook(DecisionRule rule) {
            return Outlook.NOT_LOOKED_FOR;
        }

        @Override
        public Optional<Verdict> decided(DecisionRule rule, DecisionRule.Asks asks) {
            shapeAsked++;
            return Quantity.super.decided(rule, asks);
        }

        Verdict verdict() {
            return then(RULE, DecisionRule.Asks.SIGNED).verdict().orElseThrow();
        }
    }

    /** 100 mm off the margin: whatever the shape, 1 − 20²/(20² + 100²) = 0.96154 lie beyond it (Cantelli), so nobody asks for it. */
    @Test
    void whereTheVerdictAloneIsWanted_andNoShapeCouldChangeIt_itsBoundIsEnough() {
        Normal quantity = new Normal(-0.15);
        assertThat(quantity.verdict().word()).isEqualTo("tighter");
        assertThat(quantity.verdict().probability()).isCloseTo(1 - 400.0 / 10_400, within(1e-9));
        assertThat(quantity.shapeAsked).isZero();
    }

    /** 50 mm off it the bound is 1 − 20²/(20² + 50²) = 0.862 only; the normal one has Φ(2.5) = 0.99379 (normal table). */
    @Test
    void whereTheBoundIsNotEnough_theShapeDecides() {
        Normal quantity = new Normal(0.1);
        assertThat(quantity.verdict()).isInstanceOf(Verdict.Beyond.class);
        assertThat(quantity.verdict().probability()).isCloseTo(0.99379, within(5e-6));
        assertThat(quantity.shapeAsked).isEqualTo(2);
    }

    @Test
    void whatItComesTo_isValueAndUncertainty_andAWordWhereNothingIsDecided() {
        Answer.Then then = new Normal(0.05).then(RULE, DecisionRule.Asks.SIGNED); // half of it beyond the margin
        assertThat(then.verdict()).isEmpty();
        assertThat(then.word()).isEqualTo("cannotTell");
        assertThat(then.value()).isEqualTo(0.05);
        assertThat(then.standardUncertainty()).isCloseTo(0.02, within(1e-12));
        assertThat(new Normal(0.15).then(RULE, DecisionRule.Asks.UNSIGNED).word())
                .isEqualTo("beyond");
    }
}
