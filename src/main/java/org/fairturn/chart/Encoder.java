package org.fairturn.chart;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.function.Consumer;
import javax.imageio.ImageIO;
import javax.imageio.stream.MemoryCacheImageOutputStream;
import org.apache.batik.dom.GenericDOMImplementation;
import org.apache.batik.svggen.SVGGeneratorContext;
import org.apache.batik.svggen.SVGIDGenerator;
import org.w3c.dom.Document;
import org.w3c.dom.Element;

/** Turns what a painter draws into a {@link Drawing}: the same strokes once as SVG, once as PNG. */
final class Encoder {
    private static final String SVG = "http://www.w3.org/2000/svg";
    private static final int PNG_SCALE = 2;

    private Encoder() {}

    static Drawing draw(String name, String title, String description, int height, Consumer<Graphics2D> painter) {
        CompletableFuture<byte[]> png =
                CompletableFuture.supplyAsync(() -> png(Look.WIDTH, height, PNG_SCALE, painter));
        String svg = svg(name, title, description, height, painter);
        return new Drawing(name, title, description, svg, Optional.of(png.join()));
    }

    private static String svg(String name, String title, String description, int height, Consumer<Graphics2D> painter) {
        Document page = GenericDOMImplementation.getDOMImplementation().createDocument(SVG, "svg", null);
        SVGGeneratorContext context = SVGGeneratorContext.createDefault(page);
        context.setPrecision(2);
        context.setComment(null);
        context.setIDGenerator(new SVGIDGenerator() {
            @Override
            public String generateID(String prefix) {
                return super.generateID(name + "-" + prefix);
            }
        });
        SvgCanvas g = new SvgCanvas(context, Look.WIDTH, height);
        painter.accept(g);
        Element root = g.getRoot();
        root.removeAttribute("width");
        root.removeAttribute("height");
        root.setAttribute("viewBox", "0 0 " + Look.WIDTH + " " + height);
        root.setAttribute("role", "img");
        root.setAttribute("aria-labelledby", name + "-title " + name + "-desc");
        Element first = (Element) root.getFirstChild();
        root.insertBefore(label(page, "title", name, title), first);
        root.insertBefore(label(page, "desc", name, description), first);
        if (!first.hasChildNodes()) {
            root.removeChild(first); // Batik's empty list of definitions, whose id would be the same in every drawing
        } else {
            first.setAttribute("id", name + "-defs");
        }
        StringWriter out = new StringWriter();
        try {
            g.stream(root, out, false, false);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        String text = out.toString();
        return text.substring(text.indexOf("<svg")).strip(); // the DOCTYPE before it may not stand in a page
    }

    private static Element label(Document page, String element, String name, String text) {
        Element label = page.createElementNS(SVG, element);
        label.setAttribute("id", name + "-" + element);
        label.appendChild(page.createTextNode(SvgText.printable(text)));
        return label;
    }

    /** The pixels of a painting on white; width and height in user units. */
    static byte[] png(int width, int height, int scale, Consumer<Graphics2D> painter) {
        BufferedImage image = new BufferedImage(scale * width, scale * height, BufferedImage.TYPE_3BYTE_BGR);
        Graphics2D g = image.createGraphics();
        g.setColor(Color.WHITE);
        g.fillRect(0, 0, image.getWidth(), image.getHeight());
        g.scale(scale, scale);
        g.setRenderingHint(RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
        painter.accept(g);
        g.dispose();
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (var stream = new MemoryCacheImageOutputStream(bytes)) {
            ImageIO.write(image, "png", stream);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }
}
