package org.fairturn.report;

import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;

/**
 * How wide each column of a printed table is: wide enough for its longest word, and the rest of the page where it saves most
 * lines. Letters are taken for alike in width, which is near enough to share out a page.
 */
final class ColumnWidths {
    /** Letters across a page of A4 in the size of tables, upright and on its side. */
    private static final int UPRIGHT = 120;

    private static final int ON_ITS_SIDE = 178;
    /** How much of an upright page the longest words may take before a table is laid on its side. */
    private static final double FULL = 0.86;

    private static final double GAP = 1.5;
    /** Bold letters, of the first column and the headings, against plain ones. */
    private static final double BOLD = 1.15;

    private static final double RAGGED = 2.5;
    private static final int LONGEST_STEP = 24;
    /** Rows looked at; in a long table the others are alike. */
    private static final int MOST_ROWS = 60;

    private final double[][] lengths;
    private final double[] width;

    private ColumnWidths(double[][] lengths, double[] width) {
        this.lengths = lengths;
        this.width = width;
    }

    /** Whether an upright page has hardly room for more than the longest words. */
    static boolean wide(Table table) {
        return Arrays.stream(of(table).width).map(w -> w + GAP).sum() > FULL * UPRIGHT;
    }

    /** In percent of the page, one a column. */
    static double[] percent(Table table) {
        return of(table).shared(wide(table) ? ON_ITS_SIDE : UPRIGHT);
    }

    /** Each column as wide as its longest word. */
    private static ColumnWidths of(Table table) {
        int columns = table.headings().size();
        List<List<String>> rows = Stream.concat(
                        Stream.of(table.headings()), table.rows().stream().limit(MOST_ROWS))
                .toList();
        double[][] lengths = new double[rows.size()][columns];
        double[] width = new double[columns];
        for (int r = 0; r < rows.size(); r++) {
            for (int c = 0; c < columns; c++) {
                double bold = r == 0 || c == 0 ? BOLD : 1;
                String cell = rows.get(r).get(c);
                lengths[r][c] = bold * cell.length();
                width[c] = Math.max(width[c], bold * longestWord(cell));
            }
        }
        return new ColumnWidths(lengths, width);
    }

    private static int longestWord(String cell) {
        // a blank that does not break holds a number and its unit together
        return Arrays.stream(cell.split("[ /-]", -1))
                .mapToInt(word -> word.length() + 1)
                .max()
                .orElse(1);
    }

    private double[] shared(int page) {
        double room = page - GAP * width.length - Arrays.stream(width).sum();
        while (room >= 1) {
            double before = height();
            int column = -1;
            int letters = 0;
            double best = 0;
            for (int c = 0; c < width.length; c++) {
                for (int more = 1; more <= Math.min(LONGEST_STEP, room); more++) {
                    width[c] += more;
                    double saved = (before - height()) / more;
                    width[c] -= more;
                    if (saved > best) {
                        best = saved;
                        column = c;
                        letters = more;
                    }
                }
            }
            if (column < 0) {
                break;
            }
            width[column] += letters;
            room -= letters;
        }
        double total = Arrays.stream(width).map(w -> w + GAP).sum();
        return Arrays.stream(width).map(w -> 100 * (w + GAP) / total).toArray();
    }

    /** The lines of all cells, those of tall cells counting most: one tall cell makes its whole row tall. */
    private double height() {
        double height = 0;
        for (double[] row : lengths) {
            for (int c = 0; c < width.length; c++) {
                height += Math.pow(lines(row[c], width[c]), 3);
            }
        }
        return height;
    }

    /** A line that is followed by another is not full to its end. */
    private static int lines(double letters, double width) {
        return letters <= width ? 1 : (int) Math.ceil(letters / Math.max(1, width - RAGGED));
    }
}
