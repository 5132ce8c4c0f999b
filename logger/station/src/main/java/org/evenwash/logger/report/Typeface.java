package org.evenwash.logger.report;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.text.Bidi;
import java.text.Normalizer;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.font.PDCIDFontType2;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.pdmodel.font.PDType0Font;

/**
 * The letters of one PDF. Atkinson Hyperlegible first; what it lacks comes from Liberation Sans, which
 * PDFBox brings along (Greek, Cyrillic, Hebrew, arrows), then from a font of this computer; what none of
 * them has is printed as an empty box. The state shapes ▲ ● ◐ ○ are drawn, since hardly a font has all.
 */
final class Typeface {
    static final String SHAPES = "▲●◐○";

    /** WGL4, and so in Liberation Sans. */
    private static final String EMPTY_BOX = "□";

    private static final String OWN = "/web/fonts/AtkinsonHyperlegible-";
    private static final String FALLBACK =
            "/org/apache/pdfbox/resources/ttf/LiberationSans-Regular.ttf";

    /** Width of a drawn shape, in parts of the type size. */
    private static final double SHAPE_WIDTH = 0.95;

    /** Letters of one font in a row, or one drawn shape where {@code font} is null. */
    record Run(PDFont font, String text, boolean thicken) {
        double width(double size) throws IOException {
            return font == null ? SHAPE_WIDTH * size : font.getStringWidth(text) / 1_000 * size;
        }
    }

    private final PDDocument document;
    private final PDFont regular;
    private final PDFont bold;
    private final PDFont fallback;
    private final Map<Path, PDFont> borrowed = new LinkedHashMap<>();

    Typeface(PDDocument document) throws IOException {
        this.document = document;
        this.regular = load(OWN + "Regular.ttf");
        this.bold = load(OWN + "Bold.ttf");
        this.fallback = load(FALLBACK);
    }

    private PDFont load(String resource) throws IOException {
        try (InputStream file = Typeface.class.getResourceAsStream(resource)) {
            if (file == null) {
                throw new IllegalStateException("the program lacks its own file " + resource);
            }
            return PDType0Font.load(document, file, true);
        }
    }

    /** A line cut into runs, in the order in which they stand on paper. */
    List<Run> runs(String text, boolean heavy) throws IOException {
        List<Run> runs = new ArrayList<>();
        StringBuilder letters = new StringBuilder();
        PDFont before = null;
        for (int letter : visual(clean(text)).codePoints().toArray()) {
            String one = Character.toString(letter);
            if (SHAPES.contains(one)) {
                flush(runs, before, letters, heavy);
                runs.add(new Run(null, one, false));
                before = null;
                continue;
            }
            PDFont font = fontFor(letter, heavy);
            if (!font.equals(before)) {
                flush(runs, before, letters, heavy);
                before = font;
            }
            letters.append(has(font, letter) ? one : EMPTY_BOX);
        }
        flush(runs, before, letters, heavy);
        return runs;
    }

    private void flush(List<Run> runs, PDFont font, StringBuilder letters, boolean heavy) {
        if (letters.length() > 0) {
            runs.add(new Run(font, letters.toString(), heavy && !bold.equals(font)));
            letters.setLength(0);
        }
    }

    double width(String text, double size, boolean heavy) throws IOException {
        double width = 0;
        for (Run run : runs(text, heavy)) {
            width += run.width(size);
        }
        return width;
    }

    private PDFont fontFor(int letter, boolean heavy) throws IOException {
        PDFont own = heavy ? bold : regular;
        if (has(own, letter)) {
            return own;
        }
        if (has(fallback, letter)) {
            return fallback;
        }
        Optional<Path> elsewhere = SystemFonts.with(letter);
        if (elsewhere.isEmpty()) {
            return fallback;
        }
        PDFont found = borrowed.get(elsewhere.get());
        if (found == null) {
            found = PDType0Font.load(document, elsewhere.get().toFile());
            borrowed.put(elsewhere.get(), found);
        }
        return found;
    }

    private static boolean has(PDFont font, int letter) throws IOException {
        return font instanceof PDType0Font type0
                && type0.getDescendantFont() instanceof PDCIDFontType2 outline
                && outline.getTrueTypeFont().getUnicodeCmapLookup().getGlyphId(letter) != 0;
    }

    /** Accents as one letter with theirs; what cannot be printed, such as a line break, as a space. */
    private static String clean(String text) {
        return Normalizer.normalize(text, Normalizer.Form.NFC)
                .replaceAll("[\\p{Cntrl}\\p{Cf}]", " ")
                .replace('\u00A0', ' ');
    }

    /** Right-to-left words as they stand on paper. Joined scripts are not shaped. */
    private static String visual(String text) {
        char[] letters = text.toCharArray();
        if (!Bidi.requiresBidi(letters, 0, letters.length)) {
            return text;
        }
        Bidi bidi = new Bidi(text, Bidi.DIRECTION_DEFAULT_LEFT_TO_RIGHT);
        int count = bidi.getRunCount();
        byte[] levels = new byte[count];
        String[] parts = new String[count];
        for (int i = 0; i < count; i++) {
            String part = text.substring(bidi.getRunStart(i), bidi.getRunLimit(i));
            levels[i] = (byte) bidi.getRunLevel(i);
            parts[i] = levels[i] % 2 == 0 ? part : new StringBuilder(part).reverse().toString();
        }
        Bidi.reorderVisually(levels, 0, parts, 0, count);
        return String.join("", parts);
    }

    /**
     * Cut into lines that fit; at spaces where there are any, else within the word.
     *
     * @param width in points
     */
    List<String> lines(String text, double size, boolean heavy, double width) throws IOException {
        List<String> lines = new ArrayList<>();
        for (String paragraph : text.split("\\R", -1)) {
            String line = "";
            for (String word : paragraph.strip().split("\\s+")) {
                String longer = line.isEmpty() ? word : line + " " + word;
                if (width(longer, size, heavy) <= width) {
                    line = longer;
                    continue;
                }
                if (!line.isEmpty()) {
                    lines.add(line);
                }
                line = word;
                while (width(line, size, heavy) > width) {
                    int fits = fitting(line, size, heavy, width);
                    lines.add(line.substring(0, fits));
                    line = line.substring(fits);
                }
            }
            lines.add(line);
        }
        return lines;
    }

    /** How many chars of a word fit, at least one letter. */
    private int fitting(String word, double size, boolean heavy, double width) throws IOException {
        int fits = word.offsetByCodePoints(0, 1);
        while (fits < word.length()) {
            int next = word.offsetByCodePoints(fits, 1);
            if (width(word.substring(0, next), size, heavy) > width) {
                break;
            }
            fits = next;
        }
        return fits;
    }

    /** Cut short with … where it does not fit. */
    String shortened(String text, double size, boolean heavy, double width) throws IOException {
        if (width(text, size, heavy) <= width) {
            return text;
        }
        String rest = text;
        while (!rest.isEmpty() && width(rest + "…", size, heavy) > width) {
            rest = rest.substring(0, rest.offsetByCodePoints(rest.length(), -1));
        }
        return rest.strip() + "…";
    }
}
