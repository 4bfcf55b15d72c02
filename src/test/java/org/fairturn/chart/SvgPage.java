package org.fairturn.chart;

import java.io.StringReader;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.StringTokenizer;
import java.util.stream.IntStream;
import javax.xml.parsers.DocumentBuilderFactory;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.xml.sax.InputSource;

/** An SVG read back with the JDK's XML parser, which refuses a DOCTYPE here. */
record SvgPage(Element root) {
    static SvgPage read(String svg) {
        try {
            DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
            factory.setNamespaceAware(true);
            factory.setFeature("http://apache.org/xml/features/disallow-doctype-decl", true);
            Document document = factory.newDocumentBuilder().parse(new InputSource(new StringReader(svg)));
            return new SvgPage(document.getDocumentElement());
        } catch (Exception e) {
            throw new AssertionError("not well-formed XML", e);
        }
    }

    List<Element> all(String element) {
        var nodes = root.getElementsByTagNameNS("http://www.w3.org/2000/svg", element);
        return IntStream.range(0, nodes.getLength())
                .mapToObj(i -> (Element) nodes.item(i))
                .toList();
    }

    String text(String element) {
        return all(element).get(0).getTextContent();
    }

    List<String> ids() {
        List<String> ids = new ArrayList<>();
        for (Element element : all("*")) {
            if (element.hasAttribute("id")) {
                ids.add(element.getAttribute("id"));
            }
        }
        return ids;
    }

    /** Elements that are a part of that name inside the panel of one turn. */
    List<Element> in(String panel, String name) {
        Element group = all("g").stream()
                .filter(g -> g.getAttribute("data-part").equals(panel))
                .findFirst()
                .orElseThrow();
        return all("*").stream()
                .filter(element -> element.getParentNode() == group)
                .filter(element -> words(element, "data-part").contains(name))
                .toList();
    }

    /** The blank-separated words of an attribute. */
    static List<String> words(Element element, String attribute) {
        return Collections.list(new StringTokenizer(element.getAttribute(attribute))).stream()
                .map(Object::toString)
                .toList();
    }

    static double number(Element element, String attribute) {
        return Double.parseDouble(element.getAttribute(attribute));
    }
}
