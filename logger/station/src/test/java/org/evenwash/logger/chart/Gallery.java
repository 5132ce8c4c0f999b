package org.evenwash.logger.chart;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import javax.xml.parsers.DocumentBuilderFactory;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;

/**
 * Reads SVG as the XML it is, so that tests can measure it, and leaves every picture of the tests in
 * {@code target/pictures} to be looked at.
 */
final class Gallery {
    private static final Path FOLDER = Path.of("target", "pictures");

    private Gallery() {}

    static Document keep(String name, String svg) {
        return keep(name, svg.getBytes(StandardCharsets.UTF_8));
    }

    static Document keep(String name, byte[] svg) {
        write(name + ".svg", svg);
        try {
            DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
            factory.setFeature(
                    "http://apache.org/xml/features/nonvalidating/load-external-dtd", false);
            return factory.newDocumentBuilder().parse(new ByteArrayInputStream(svg));
        } catch (Exception notXml) {
            throw new AssertionError(name + " is not well-formed XML", notXml);
        }
    }

    static void write(String file, byte[] bytes) {
        try {
            Files.createDirectories(FOLDER);
            Files.write(FOLDER.resolve(file), bytes);
        } catch (IOException broken) {
            throw new UncheckedIOException("writing " + file, broken);
        }
    }

    static List<Element> all(Document svg, String element) {
        NodeList nodes = svg.getElementsByTagName(element);
        List<Element> elements = new ArrayList<>();
        for (int i = 0; i < nodes.getLength(); i++) {
            elements.add((Element) nodes.item(i));
        }
        return elements;
    }

    /** Elements of any name with this class. */
    static List<Element> parts(Document svg, String part) {
        return all(svg, "*").stream()
                .filter(element -> element.getAttribute("class").equals(part))
                .toList();
    }

    static Element part(Document svg, String part) {
        List<Element> parts = parts(svg, part);
        if (parts.size() != 1) {
            throw new AssertionError("wanted one " + part + ", found " + parts.size());
        }
        return parts.get(0);
    }

    static double number(Element element, String attribute) {
        return Double.parseDouble(element.getAttribute(attribute));
    }
}
