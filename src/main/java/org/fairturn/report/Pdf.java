package org.fairturn.report;

import com.openhtmltopdf.extend.FSTextBreaker;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.pdfboxout.PdfBoxRenderer;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import com.openhtmltopdf.util.XRLog;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.text.BreakIterator;
import java.util.Locale;
import java.util.regex.Pattern;
import org.apache.pdfbox.pdmodel.PDDocument;

/** Well-formed XHTML of our own as a tagged PDF with its letters in it. Nothing is fetched from anywhere. */
final class Pdf {
    /** What the page has to name on html and on every page box; no other letters are there. */
    static final String FONT = "DejaVu Sans";

    /** What XML has no way to write; a spreadsheet may hold it all the same. */
    private static final Pattern UNWRITABLE =
            Pattern.compile("[^\\t\\n\\r\\x20-\\uD7FF\\uE000-\\uFFFD\\x{10000}-\\x{10FFFF}]");

    private Pdf() {}

    static byte[] of(String xhtml) {
        XRLog.setLoggingEnabled(false); // it would write to standard error
        PdfRendererBuilder builder = new PdfRendererBuilder();
        builder.useFont(() -> Pdf.class.getResourceAsStream("DejaVuSans.ttf"), FONT, 400, FontStyle.NORMAL, true);
        builder.useFont(() -> Pdf.class.getResourceAsStream("DejaVuSans-Bold.ttf"), FONT, 700, FontStyle.NORMAL, true);
        builder.useSVGDrawer(new BatikSVGDrawer());
        builder.usePdfUaAccessibility(true);
        builder.useUnicodeLineBreaker(new Breaker());
        builder.withProducer("Fairturn");
        builder.withHtmlContent(UNWRITABLE.matcher(xhtml).replaceAll("\uFFFD"), null);
        ByteArrayOutputStream pdf = new ByteArrayOutputStream();
        try (PdfBoxRenderer renderer = builder.buildPdfRenderer();
                PDDocument document = renderer.createPDFKeepOpen()) {
            // the same input gives the same bytes: no clock, no id drawn from it
            document.getDocumentInformation().setCreationDate(null);
            document.getDocumentInformation().setModificationDate(null);
            document.setDocumentId(1L);
            document.save(pdf);
        } catch (IOException broken) {
            throw new UncheckedIOException(broken); // memory does not fail to be written to
        }
        return pdf.toByteArray();
    }

    /** The platform's line breaks, none of them inside a number or a file name: it would part −6. from 7. */
    private static final class Breaker implements FSTextBreaker {
        private final BreakIterator breaks = BreakIterator.getLineInstance(Locale.ROOT);
        private String text = "";

        @Override
        public void setText(String newText) {
            text = newText;
            breaks.setText(newText);
        }

        @Override
        public int next() {
            int at = breaks.next();
            while (at > 0 && at < text.length() && insideWord(at)) {
                at = breaks.next();
            }
            return at;
        }

        private boolean insideWord(int at) {
            char before = text.charAt(at - 1);
            return (Character.isDigit(text.charAt(at)) && ".,−±+".indexOf(before) >= 0)
                    || (Character.isLetter(text.charAt(at)) && before == '.');
        }
    }
}
