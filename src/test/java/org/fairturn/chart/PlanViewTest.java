package org.fairturn.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.fairturn.chart.PlanView.BladeDisc;
import org.fairturn.chart.PlanView.Scene;
import org.fairturn.chart.PlanView.Turning;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Element;

class PlanViewTest {
    /** Coordinates are written to a hundredth of a user unit. */
    private static final double WRITTEN = 0.011;

    private static SvgPage page(Scene scene) {
        return SvgPage.read(PlanView.draw(scene).svg());
    }

    private static Scene with(Scene scene, List<BladeDisc> blades, Turning left, Turning right) {
        return new Scene(
                scene.machine(),
                scene.wheelbase(),
                scene.frontTrack(),
                blades,
                scene.deckOffset(),
                left,
                right,
                scene.shown());
    }

    private static double x(Element circle) {
        return SvgPage.number(circle, "cx");
    }

    private static double y(Element circle) {
        return SvgPage.number(circle, "cy");
    }

    private static double r(Element circle) {
        return SvgPage.number(circle, "r");
    }

    /** User units per metre, read back from the sample's tip circles. */
    private static double scale(SvgPage page) {
        return r(page.in("left", "blade").get(0)) / 0.262;
    }

    @Test
    void discsAndBlades_standToOneScale_inBothPanels() {
        Scene scene = Samples.scene();
        SvgPage page = page(scene);
        double scale = scale(page);
        for (String panel : List.of("left", "right")) {
            int side = panel.equals("left") ? 1 : -1;
            Turning turning = side > 0 ? scene.left() : scene.right();
            Element disc = page.in(panel, "disc").get(0);
            assertThat(r(disc)).isCloseTo(scale * turning.uncutDiameter() / 2, within(0.1));
            List<Element> blades = page.in(panel, "blade");
            assertThat(blades).hasSize(3);
            for (int i = 0; i < 3; i++) {
                BladeDisc blade = scene.blades().get(i);
                // forward is up, left is left: both against the direction of the screen's axes
                double lateral = side * turning.turnRadius() - blade.left();
                double ahead = blade.ahead() - turning.turnCentreShift();
                assertThat(x(blades.get(i)) - x(disc)).isCloseTo(scale * lateral, within(0.1));
                assertThat(y(disc) - y(blades.get(i))).isCloseTo(scale * ahead, within(0.1));
            }
        }
    }

    @Test
    void theMarkedTip_liesOnTheEdgeOfTheDisc_ofTheBladeOnTheInside() {
        SvgPage page = page(Samples.scene());
        for (String panel : List.of("left", "right")) {
            Element disc = page.in(panel, "disc").get(0);
            Element tip = page.in(panel, "tip").get(0);
            Element closest = page.in(panel, "closest").get(0);
            assertThat(Math.hypot(x(tip) - x(disc), y(tip) - y(disc))).isCloseTo(r(disc), within(2 * WRITTEN));
            assertThat(Math.hypot(x(tip) - x(closest), y(tip) - y(closest))).isCloseTo(r(closest), within(2 * WRITTEN));
            // of the blades, the one whose centre is furthest towards the turn centre
            var byX = Comparator.comparingDouble(PlanViewTest::x);
            List<Element> blades = page.in(panel, "blade");
            Element inside = panel.equals("left")
                    ? blades.stream().min(byX).orElseThrow()
                    : blades.stream().max(byX).orElseThrow();
            assertThat(closest).isSameAs(inside);
        }
        assertThat(page.in("left", "closest")).hasSize(1);
    }

    @Test
    void mirroredMachineWithTurnsExchanged_isTheMirrorImage() {
        SplittableRandom random = new SplittableRandom(20260501);
        for (int round = 0; round < 50; round++) {
            Turning left = turning("a", random);
            Turning right = turning("b", random);
            List<BladeDisc> blades = List.of(blade(random), blade(random), blade(random));
            List<BladeDisc> mirrored = blades.stream()
                    .map(b -> new BladeDisc(b.spindle(), b.ahead(), -b.left(), b.tipRadius()))
                    .toList();
            SvgPage page = page(with(Samples.scene(), blades, left, right));
            SvgPage mirror = page(with(Samples.scene(), mirrored, right, left));
            double between = y(page.in("right", "disc").get(0))
                    - y(mirror.in("left", "disc").get(0)); // the panels stand one above the other
            for (String name : List.of("disc", "blade", "closest", "tip")) {
                List<Element> here = page.in("right", name);
                List<Element> there = mirror.in("left", name);
                assertThat(there).hasSameSizeAs(here);
                for (int i = 0; i < here.size(); i++) {
                    assertThat(x(there.get(i))).isCloseTo(480 - x(here.get(i)), within(2 * WRITTEN));
                    assertThat(y(there.get(i)) + between).isCloseTo(y(here.get(i)), within(3 * WRITTEN));
                    assertThat(r(there.get(i))).isCloseTo(r(here.get(i)), within(WRITTEN));
                }
            }
            assertThat(mirror.root().getAttribute("viewBox"))
                    .isEqualTo(page.root().getAttribute("viewBox"));
        }
    }

    private static Turning turning(String label, SplittableRandom random) {
        return new Turning(label, random.nextDouble(0.5, 4), random.nextDouble(-0.1, 0.1), random.nextDouble(0, 4));
    }

    private static BladeDisc blade(SplittableRandom random) {
        return new BladeDisc(
                "x", random.nextDouble(0.2, 1.5), random.nextDouble(-0.8, 0.8), random.nextDouble(0.1, 0.4));
    }

    @Test
    void deckMovedTowardsTheTurnCentre_bringsTheMarkedTipCloser() {
        Scene scene = Samples.scene();
        double before = Double.NaN;
        for (double moved : new double[] {0, 0.05, 0.1}) {
            List<BladeDisc> blades = scene.blades().stream()
                    .map(b -> new BladeDisc(b.spindle(), b.ahead(), b.left() + moved, b.tipRadius()))
                    .toList();
            SvgPage page = page(with(scene, blades, scene.left(), scene.right()));
            Element tip = page.in("left", "tip").get(0);
            Element disc = page.in("left", "disc").get(0);
            double distance = Math.hypot(x(tip) - x(disc), y(tip) - y(disc)) / scale(page);
            if (moved > 0) {
                assertThat(distance).isLessThan(before - 0.01);
            }
            before = distance;
        }
    }

    @Test
    void description_saysWhatIsSeen() {
        Scene scene = new Scene(
                "Alder 22",
                OptionalDouble.of(1.6),
                OptionalDouble.of(1.1),
                List.of(new BladeDisc("left", 0.8, 0.4, 0.25), new BladeDisc("right", 0.8, -0.5, 0.25)),
                OptionalDouble.of(-0.05),
                new Turning("Left turn, 2WD", 1, 0, 1.5),
                new Turning("Right turn, 2WD", 1.1, 0, 1.5),
                LengthUnit.CENTIMETRE);
        // by hand: hypot(0.8, 1 − 0.4) − 0.25 = 0.75 m, and hypot(0.8, 1.1 − 0.5) − 0.25 = 0.75 m
        assertThat(PlanView.draw(scene).description())
                .isEqualTo("Alder 22 seen from above, both turns at one scale."
                        + " Left turn, 2WD: turn radius 1000 mm, uncut disc 1500 mm across; left blade cuts closest,"
                        + " 750 mm from the turn centre."
                        + " Right turn, 2WD: turn radius 1100 mm, uncut disc 1500 mm across; right blade cuts closest,"
                        + " 750 mm from the turn centre."
                        + " The deck's centre lies 50 mm right of the centreline."
                        + " Blades, rear axle and circles are to scale; the outline of the machine is a sketch.");
    }

    @Test
    void wordsInTheDrawing_areText() {
        List<String> words = page(Samples.scene()).all("text").stream()
                .map(Element::getTextContent)
                .toList();
        assertThat(words)
                .contains(
                        "Alder 22 seen from above",
                        "Left turn, 2WD",
                        "Right turn, 2WD",
                        "R 53.5 in",
                        "deck 1.0 in right",
                        "uncut grass",
                        "turn centre")
                .anyMatch(word -> word.matches("D \\d+\\.\\d in"));
    }

    @Test
    void lettersAreLargeEnough_onAPhone() {
        SvgPage page = page(Samples.scene());
        double scale = 358.0 / 480; // a phone of 390 px with margins of 16 px
        assertThat(scale * SvgPage.number(page.root(), "font-size")).isGreaterThanOrEqualTo(10.5);
        for (Element text : page.all("text")) {
            if (text.hasAttribute("font-size")) {
                assertThat(scale * SvgPage.number(text, "font-size")).isGreaterThanOrEqualTo(10.5);
            }
        }
    }

    @Test
    void scaleBar_isAsLongAsItSays() {
        SvgPage page = page(Samples.scene());
        Element bar = page.all("path").get(page.all("path").size() - 1);
        String[] ends = bar.getAttribute("d")
                .replaceAll("^M([\\d.]+) .*H([\\d.]+)v.*$", "$1;$2")
                .split(";", -1);
        double length = Double.parseDouble(ends[1]) - Double.parseDouble(ends[0]);
        assertThat(page.all("text").get(page.all("text").size() - 1).getTextContent())
                .isEqualTo("36 in");
        assertThat(length / scale(page)).isCloseTo(36 * 0.0254, within(0.001));
    }

    @Test
    void scaleBarLengths_areRound() {
        Shown mm = Shown.in(LengthUnit.MILLIMETRE);
        Shown in = Shown.in(LengthUnit.FOOT);
        assertThat(PlanView.roundLength(1.7, mm)).isCloseTo(1, within(1e-12));
        assertThat(PlanView.roundLength(0.6, mm)).isCloseTo(0.5, within(1e-12));
        assertThat(PlanView.roundLength(99, in)).isCloseTo(2400 * 0.0254, within(1e-9));
        assertThat(PlanView.scaleText(PlanView.roundLength(0.1, in), in)).isEqualTo("2 in");
    }

    @Test
    void littleKnown_orExtreme_isStillDrawn_insideTheSheet() {
        Scene full = Samples.scene();
        for (double diameter : new double[] {0, 0.2, 1.5, 200}) {
            Turning turning = new Turning("turn", diameter / 2 + 0.3, 0.05, diameter);
            Scene bare = new Scene(
                    "Alder 22",
                    OptionalDouble.empty(),
                    OptionalDouble.empty(),
                    List.of(),
                    OptionalDouble.empty(),
                    turning,
                    turning,
                    LengthUnit.METRE);
            for (Scene scene : List.of(bare, with(full, full.blades(), turning, turning))) {
                String svg = PlanView.draw(scene).svg();
                assertThat(svg).doesNotContain("NaN", "Infinity");
                SvgPage page = SvgPage.read(svg);
                double height =
                        Double.parseDouble(SvgPage.words(page.root(), "viewBox").get(3));
                for (Element circle : page.all("circle")) {
                    assertThat(x(circle) - r(circle)).isGreaterThanOrEqualTo(0);
                    assertThat(x(circle) + r(circle)).isLessThanOrEqualTo(480);
                    assertThat(y(circle) + r(circle)).isLessThanOrEqualTo(height);
                }
                assertThat(page.in("left", "closest")).hasSize(scene.blades().isEmpty() ? 0 : 1);
            }
        }
    }

    @Test
    void namesWithMarkup_comeThrough_andNoTwoMachinesShareIds() {
        Scene scene = Samples.scene();
        String odd = "<Ålder & \"Söhne\"> number twenty-two with a very long name";
        Scene named = new Scene(
                odd,
                scene.wheelbase(),
                scene.frontTrack(),
                scene.blades(),
                scene.deckOffset(),
                scene.left(),
                scene.right(),
                scene.shown());
        SvgPage page = page(named);
        assertThat(page.text("title")).isEqualTo(odd + " seen from above");
        assertThat(page.all("text").get(0).getTextContent()).isEqualTo("<Ålder & \"Söhne\"> number twenty-two wit…");
        assertThat(page.ids())
                .doesNotHaveDuplicates()
                .doesNotContainAnyElementsOf(page(scene).ids())
                .allMatch(id -> id.matches("[a-z0-9_-]+"));
    }

    @Test
    void impossibleSizes_areRefusedByName() {
        assertThatThrownBy(() -> new Turning("x", 1, 0, -1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("uncutDiameter is -1.0 m; must be in [0, ∞) m");
        assertThatThrownBy(() -> new BladeDisc("x", Double.NaN, 0, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("ahead is NaN m; must be finite");
    }
}
