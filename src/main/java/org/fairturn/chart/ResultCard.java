package org.fairturn.chart;

import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * One picture to send or to put up: what a trial found, with everything that weakens it. 1200 × 630 units, letters of 22 units
 * and more. The SVG's letters are text; the PNG is left out on a machine without fonts.
 *
 * <p>Lines are broken by a rough, generous width of letters and not by the fonts of this machine, so that the picture is the
 * same everywhere. What does not fit is left out entry by entry from the end, and counted; of an entry that is shown,
 * nothing that weakens it is ever left out.
 */
public final class ResultCard {
    private static final int WIDTH = 1200;
    private static final int HEIGHT = 630;
    private static final int MARGIN = 40;
    private static final int BAR = 12;
    private static final int TITLE = 35;
    private static final int FIGURE = 27;
    private static final int TEXT = 25;
    private static final int SMALL = 22;
    private static final double GAP = 13;
    private static final double BOLD = 1.1;
    private static final int MOST_ENTRIES = 4;
    private static final String INK = "#1f2933";
    private static final String QUIET = "#46535f";
    private static final String LINE = "#c3ccd5";

    /** The colour of a verdict. */
    public enum Tone {
        /** Within the practical margin. */
        FINE("#17603a"),
        /** Beyond the margin, to either side. */
        MATTERS("#97330b"),
        /** Cannot tell yet, or not possible. */
        OPEN("#5a4a00");

        private final String colour;

        Tone(String colour) {
            this.colour = colour;
        }
    }

    /**
     * One finding.
     *
     * @param tone which colour the badge has
     * @param badge the verdict in a word or two
     * @param about what was asked
     * @param figure with its interval; may be empty
     * @param reservations what weakens it, in one text; empty where nothing does
     */
    public record Entry(Tone tone, String badge, String about, String figure, String reservations) {}

    /**
     * What stands on the card.
     *
     * @param head small line above the title
     * @param code at the right of it
     * @param title of the trial
     * @param conditions one line below the title; it may be cut
     * @param entries in their order; as many as fit are shown, the first always
     * @param foot lines at the bottom, never cut
     */
    public record Content(
            String head, String code, String title, String conditions, List<Entry> entries, List<String> foot) {
        /**
         * Keeps its own copy of each list.
         *
         * @param head small line above the title
         * @param code at the right of it
         * @param title of the trial
         * @param conditions one line below the title; it may be cut
         * @param entries in their order; as many as fit are shown, the first always
         * @param foot lines at the bottom, never cut
         */
        public Content {
            entries = List.copyOf(entries);
            foot = List.copyOf(foot);
        }
    }

    private record Run(String text, double x, double y, int size, boolean bold, String colour) {}

    private record Block(double x, double y, double width, double height, String colour) {}

    private final List<Run> runs = new ArrayList<>();
    private final List<Block> blocks = new ArrayList<>();
    private double y = MARGIN;

    private ResultCard() {}

    /**
     * {@return the picture; its description holds every word on it}
     *
     * @param content words, few enough for one picture
     */
    public static Drawing draw(Content content) {
        ResultCard card = new ResultCard();
        int shown = card.layOut(content);
        String description = description(content, shown);
        Optional<byte[]> png = Fonts.missing().isPresent()
                ? Optional.empty()
                : Optional.of(Encoder.png(WIDTH, HEIGHT, 1, card::paint));
        return new Drawing("card", content.title(), description, card.svg(content.title(), description), png);
    }

    private static String more(Content content, int shown) {
        List<Entry> rest = content.entries().subList(shown, content.entries().size());
        long open = rest.stream().filter(entry -> entry.tone() == Tone.OPEN).count();
        String decided = open == 0 ? "" : open == rest.size() ? ", all of them open" : ", " + open + " of them open";
        return rest.isEmpty()
                ? ""
                : "and " + rest.size() + " more in the report"
                        + (rest.size() == 1 && open == 1 ? ", which is open" : decided);
    }

    private static String description(Content content, int shown) {
        StringBuilder text = new StringBuilder();
        text.append(content.title()).append(". ").append(content.conditions()).append(".");
        for (Entry entry : content.entries().subList(0, shown)) {
            text.append('\n').append(entry.badge()).append(": ").append(entry.about());
            text.append(entry.figure().isEmpty() ? "" : ": " + entry.figure());
            text.append(entry.reservations().isEmpty() ? "." : "; " + entry.reservations() + ".");
        }
        String more = more(content, shown);
        text.append(more.isEmpty() ? "" : "\n(" + more + ")");
        content.foot().forEach(line -> text.append('\n').append(line));
        return text.append('\n').append(content.code()).append('.').toString();
    }

    private int layOut(Content content) {
        double inside = WIDTH - 2.0 * MARGIN;
        double codeWidth = width(content.code(), SMALL, true);
        runs.add(new Run(content.code(), WIDTH - MARGIN - codeWidth, y + SMALL, SMALL, true, QUIET));
        line(content.head(), SMALL, false, QUIET, MARGIN);
        y += 4;
        for (String line : cut(wrapped(content.title(), TITLE, true, inside), 2)) {
            line(line, TITLE, true, INK, MARGIN);
        }
        cut(wrapped(content.conditions(), SMALL, false, inside), 1)
                .forEach(line -> line(line, SMALL, false, QUIET, MARGIN));
        y += GAP;

        List<String> foot = content.foot().stream()
                .flatMap(line -> wrapped(line, SMALL, false, inside).stream())
                .toList();
        double bottom = HEIGHT - MARGIN / 2.0 - foot.size() * step(SMALL) - GAP;
        int shown = entries(content, bottom);
        String more = more(content, shown);
        if (!more.isEmpty()) {
            line(more, TEXT, false, INK, MARGIN);
        }
        blocks.add(new Block(MARGIN, bottom, inside, 2, LINE));
        y = bottom + GAP / 2;
        foot.forEach(line -> line(line, SMALL, false, QUIET, MARGIN));
        return shown;
    }

    private int entries(Content content, double bottom) {
        int shown = 0;
        for (Entry entry : content.entries()) {
            boolean last = shown + 1 == content.entries().size();
            double needed = height(entry) + (last ? 0 : step(TEXT));
            if (shown > 0 && (shown == MOST_ENTRIES || y + needed > bottom)) {
                break;
            }
            double from = y;
            double x = MARGIN + 2.0 * BAR;
            runs.add(new Run(entry.badge(), x, y + TEXT, TEXT, true, entry.tone().colour));
            double indent = width(entry.badge() + "  ", TEXT, true);
            List<String> about = about(entry);
            line(about.get(0), TEXT, false, INK, x + indent);
            about.stream().skip(1).forEach(line -> line(line, TEXT, false, INK, x));
            if (!entry.figure().isEmpty()) {
                wrapped(entry.figure(), FIGURE, true, room()).forEach(line -> line(line, FIGURE, true, INK, x));
            }
            wrapped(entry.reservations(), SMALL, false, room()).forEach(line -> line(line, SMALL, false, QUIET, x));
            blocks.add(new Block(MARGIN, from + 4, BAR / 2.0, y - from, entry.tone().colour));
            y += GAP;
            shown++;
        }
        return shown;
    }

    private static double room() {
        return WIDTH - 2.0 * MARGIN - 2 * BAR;
    }

    /** The first line stands behind the badge. */
    private static List<String> about(Entry entry) {
        double indent = width(entry.badge() + "  ", TEXT, true);
        List<String> first = wrapped(entry.about(), TEXT, false, room() - indent);
        if (first.size() == 1) {
            return first;
        }
        List<String> lines = new ArrayList<>(List.of(first.get(0)));
        lines.addAll(wrapped(String.join(" ", first.subList(1, first.size())), TEXT, false, room()));
        return cut(lines, 3);
    }

    private static double height(Entry entry) {
        return about(entry).size() * step(TEXT)
                + wrapped(entry.figure(), FIGURE, true, room()).size() * step(FIGURE)
                + wrapped(entry.reservations(), SMALL, false, room()).size() * step(SMALL)
                + GAP;
    }

    private static double step(int size) {
        return 1.24 * size;
    }

    private void line(String text, int size, boolean bold, String colour, double x) {
        runs.add(new Run(text, x, y + size, size, bold, colour));
        y += step(size);
    }

    /** Lines no wider than the room; none for an empty text. A word that is wider by itself is broken. */
    static List<String> wrapped(String text, int size, boolean bold, double room) {
        List<String> lines = new ArrayList<>();
        StringBuilder line = new StringBuilder();
        for (String word : SvgText.printable(text).strip().split(" +", -1)) {
            if (line.length() > 0 && width(line + " " + word, size, bold) > room) {
                lines.add(line.toString());
                line.setLength(0);
            }
            line.append(line.length() > 0 ? " " : "").append(word);
            while (width(line.toString(), size, bold) > room) {
                int end = line.length();
                while (end > 1 && width(line.substring(0, end), size, bold) > room) {
                    end = line.toString().offsetByCodePoints(end, -1);
                }
                lines.add(line.substring(0, end));
                line.delete(0, end);
            }
        }
        if (line.length() > 0) {
            lines.add(line.toString());
        }
        return lines;
    }

    private static List<String> cut(List<String> lines, int most) {
        if (lines.size() <= most) {
            return lines;
        }
        List<String> kept = new ArrayList<>(lines.subList(0, most));
        kept.set(most - 1, kept.get(most - 1) + "…");
        return kept;
    }

    /** Generous: as wide as the widest of the usual sans-serif fonts. */
    static double width(String text, int size, boolean bold) {
        return size
                * (bold ? BOLD : 1)
                * text.codePoints().mapToDouble(ResultCard::em).sum();
    }

    private static double em(int c) {
        if (" \u00a0.,:;'|!()[]/-ijlft".indexOf(c) >= 0) {
            return 0.36;
        }
        if (c == 'm' || c == 'w' || c == 'M' || c == 'W' || c == '%' || c == '@' || c >= 0x2190) {
            return c == '−' ? 0.84 : 1;
        }
        return Character.isUpperCase(c) ? 0.7 : 0.61;
    }

    private String svg(String title, String description) {
        SvgText out = new SvgText();
        out.open(
                "svg xmlns=http://www.w3.org/2000/svg viewBox={} role=img aria-labelledby={} font-family={}",
                "0 0 " + WIDTH + " " + HEIGHT,
                "card-title card-desc",
                "DejaVu Sans, Verdana, Segoe UI, Roboto, Helvetica, Arial, sans-serif");
        out.holding(title, "title id=card-title");
        out.holding(description, "desc id=card-desc");
        out.leaf("rect width={} height={} fill=#ffffff", (double) WIDTH, (double) HEIGHT);
        for (Block block : blocks) {
            out.leaf(
                    "rect x={} y={} width={} height={} fill={}",
                    block.x(),
                    block.y(),
                    block.width(),
                    block.height(),
                    block.colour());
        }
        for (Run run : runs) {
            out.holding(
                    run.text(),
                    "text x={} y={} font-size={} font-weight={} fill={}",
                    run.x(),
                    run.y(),
                    (double) run.size(),
                    run.bold() ? "bold" : "normal",
                    run.colour());
        }
        return out.close("svg").toString();
    }

    private void paint(Graphics2D g) {
        for (Block block : blocks) {
            g.setColor(Color.decode(block.colour()));
            g.fill(new Rectangle2D.Double(block.x(), block.y(), block.width(), block.height()));
        }
        for (Run run : runs) {
            if (run.text().isEmpty()) {
                continue;
            }
            Font font = (run.bold() ? Look.BOLD : Look.PLAIN).deriveFont((float) run.size());
            double room = WIDTH - MARGIN / 2.0 - run.x();
            double wide = Look.width(g, run.text(), font);
            if (wide > room) { // smaller rather than cut
                font = font.deriveFont((float) (run.size() * room / wide * 0.99));
            }
            Look.text(g, run.text(), run.x(), run.y(), room, font, Color.decode(run.colour()));
        }
    }
}
