package org.fairturn.chart;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
import javax.imageio.ImageIO;
import javax.xml.parsers.DocumentBuilderFactory;
import org.fairturn.chart.ResultCard.Content;
import org.fairturn.chart.ResultCard.Entry;
import org.fairturn.chart.ResultCard.Tone;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

class ResultCardTest {
    private static final String RESERVATIONS =
            "rests on the assumed repeatability; not with all questions of this trial"
                    + " counted together; falls if circle B8 is left out (then: not possible); fairness, not met: steering stops"
                    + " verified, same measurer, order mixed; fairness, not stated: tyres as the manuals state";

    private static Content content(String title, List<Entry> entries) {
        return new Content(
                "head", "data 7K3M-9QXT", title, "2026-05-14 · meadow", entries, List.of("foot one", "foot two"));
    }

    private static Entry entry(int number, String reservations) {
        return new Entry(
                Tone.MATTERS,
                "✗ beyond the margin",
                "Machine " + number + ", left turn: 4WD circle less 2WD circle",
                "−13.0 in (−329 mm), between −17.2 and −8.7 in (−436 and −222 mm)",
                reservations);
    }

    private static Document parsed(Drawing card) throws Exception {
        return DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(new InputSource(new StringReader(card.svgFile())));
    }

    private static String text(Document svg) {
        List<String> lines = new ArrayList<>();
        NodeList texts = svg.getElementsByTagName("text");
        for (int i = 0; i < texts.getLength(); i++) {
            lines.add(texts.item(i).getTextContent());
        }
        return String.join(" ", lines);
    }

    @Test
    void card_isOnePictureWithRealText_aNameAndADescription() throws Exception {
        Drawing card = ResultCard.draw(content("Lower <meadow> & \"more\" \u0007", List.of(entry(1, ""))));
        Document svg = parsed(card);
        Element root = svg.getDocumentElement();
        assertThat(root.getAttribute("role")).isEqualTo("img");
        assertThat(root.getAttribute("viewBox")).isEqualTo("0 0 1200 630");
        assertThat(svg.getElementsByTagName("title").item(0).getTextContent()).startsWith("Lower <meadow> & \"more\"");
        assertThat(svg.getElementsByTagName("desc").item(0).getTextContent())
                .contains("✗ beyond the margin: Machine 1, left turn: 4WD circle less 2WD circle: −13.0 in (−329 mm)")
                .contains("foot one", "foot two", "data 7K3M-9QXT");
        assertThat(text(svg))
                .contains("Lower <meadow>", "data 7K3M-9QXT", "2026-05-14 · meadow", "foot one", "foot two");
        var png = ImageIO.read(new ByteArrayInputStream(card.png().orElseThrow()));
        assertThat(png.getWidth()).isEqualTo(1200);
        assertThat(png.getHeight()).isEqualTo(630);
    }

    @Test
    void whatDoesNotFit_isCounted() throws Exception {
        List<Entry> many = new ArrayList<>();
        for (int i = 1; i <= 9; i++) {
            many.add(entry(i, i == 2 ? RESERVATIONS : ""));
        }
        String text = text(parsed(ResultCard.draw(content("Title", many))));
        int shown = text.split("beyond the margin", -1).length - 1;
        assertThat(shown).isBetween(2, 4);
        assertThat(text).contains("and " + (9 - shown) + " more in the report");
        assertThat(text(parsed(ResultCard.draw(content("Title", many.subList(0, 1))))))
                .doesNotContain("more in the report");
    }

    /** Whatever people call their machines: what weakens a finding that is shown is shown whole, within the picture. */
    @Test
    void reservationsAreNeverCut_andNothingLeavesThePicture() throws Exception {
        SplittableRandom random = new SplittableRandom(3);
        for (int round = 0; round < 40; round++) {
            String title = "word ".repeat(random.nextInt(40)) + "W".repeat(random.nextInt(60));
            Entry first = new Entry(
                    Tone.OPEN,
                    "? cannot tell yet",
                    "M".repeat(random.nextInt(1, 120)) + ", left turn",
                    "−13.0 in (−329 mm), between −17.2 and −8.7 in (−436 and −222 mm)",
                    RESERVATIONS);
            List<Entry> entries = new ArrayList<>(List.of(first));
            entries.addAll(Collections.nCopies(random.nextInt(4), entry(2, RESERVATIONS)));
            Document svg = parsed(ResultCard.draw(content(title, entries)));
            assertThat(text(svg)).contains(RESERVATIONS);
            NodeList texts = svg.getElementsByTagName("text");
            double lowest = 0;
            for (int i = 0; i < texts.getLength(); i++) {
                Element line = (Element) texts.item(i);
                double size = Double.parseDouble(line.getAttribute("font-size"));
                boolean bold = line.getAttribute("font-weight").equals("bold");
                double right = Double.parseDouble(line.getAttribute("x"))
                        + ResultCard.width(line.getTextContent(), (int) size, bold);
                assertThat(right).as(line.getTextContent()).isLessThan(1200);
                lowest = Math.max(lowest, Double.parseDouble(line.getAttribute("y")));
            }
            assertThat(lowest).isLessThan(630);
            assertThat(overlap(texts)).isFalse();
        }
    }

    /** Whether two lines that start at the same height or nearly so run into each other. */
    private static boolean overlap(NodeList texts) {
        List<double[]> boxes = new ArrayList<>();
        for (int i = 0; i < texts.getLength(); i++) {
            Element line = (Element) texts.item(i);
            int size = Integer.parseInt(line.getAttribute("font-size"));
            double x = Double.parseDouble(line.getAttribute("x"));
            double y = Double.parseDouble(line.getAttribute("y"));
            double wide = ResultCard.width(
                    line.getTextContent(),
                    size,
                    line.getAttribute("font-weight").equals("bold"));
            boxes.add(new double[] {x, y - 0.7 * size, x + wide, y});
        }
        for (int i = 0; i < boxes.size(); i++) {
            for (int j = 0; j < i; j++) {
                double[] a = boxes.get(i);
                double[] b = boxes.get(j);
                if (a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3]) {
                    return true;
                }
            }
        }
        return false;
    }

    /** The rough widths hold: a line is never wider in this machine's letters than it was taken for. */
    @Test
    void letters_areNoWiderThanTakenFor() throws IOException {
        var g = new BufferedImage(1, 1, BufferedImage.TYPE_INT_RGB).createGraphics();
        for (String text : List.of(
                "Alder 22, 2WD: right circle less left, what stays unexplained",
                "−13.0 in (−329 mm), between −17.2 and −8.7 in (−436 and −222 mm)",
                "The service manual and a qualified technician have the last word.",
                "✗ beyond the margin",
                "MWMWMW AGNUQ gnuq")) {
            for (boolean bold : new boolean[] {false, true}) {
                var font = (bold ? Look.BOLD : Look.PLAIN).deriveFont(25f);
                assertThat(Look.width(g, text, font)).as(text).isLessThan(ResultCard.width(text, 25, bold) * 1.06);
            }
        }
        g.dispose();
    }
}
