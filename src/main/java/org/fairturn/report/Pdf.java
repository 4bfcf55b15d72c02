package org.fairturn.report;

import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import com.openhtmltopdf.util.XRLog;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;

/** Well-formed XHTML of our own as a tagged PDF with its letters in it. Nothing is fetched from anywhere. */
final class Pdf {
    /** What the page has to name on html and on every page box; no other letters are there. */
    static final String FONT = "DejaVu Sans";

    private Pdf() {}

    static byte[] of(String xhtml) {
        XRLog.setLoggingEnabled(false); // it would write to standard error
        PdfRendererBuilder builder = new PdfRendererBuilder();
        builder.useFont(() -> Pdf.class.getResourceAsStream("DejaVuSans.ttf"), FONT, 400, FontStyle.NORMAL, true);
        builder.useFont(() -> Pdf.class.getResourceAsStream("DejaVuSans-Bold.ttf"), FONT, 700, FontStyle.NORMAL, true);
        builder.useSVGDrawer(new BatikSVGDrawer());
        builder.usePdfUaAccessibility(true);
        builder.withHtmlContent(xhtml, null);
        ByteArrayOutputStream pdf = new ByteArrayOutputStream();
        builder.toStream(pdf);
        try {
            builder.run();
        } catch (IOException broken) {
            throw new UncheckedIOException(broken); // memory does not fail to be written to
        }
        return pdf.toByteArray();
    }
}
