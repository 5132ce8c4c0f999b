package org.evenwash.logger.report;

import com.google.zxing.BarcodeFormat;
import com.google.zxing.EncodeHintType;
import com.google.zxing.WriterException;
import com.google.zxing.common.BitMatrix;
import com.google.zxing.qrcode.QRCodeWriter;
import com.google.zxing.qrcode.decoder.ErrorCorrectionLevel;
import java.awt.Color;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.apache.pdfbox.pdmodel.common.PDRectangle;
import org.evenwash.logger.chart.Ink;

/** Prints labels, each with a QR code (ISO/IEC 18004) at its left and its words at the right. */
public final class LabelPrinter {
    /** ISO/IEC 18004 asks for four modules of paper around the code; the label's edge gives the rest. */
    private static final int QUIET_MODULES = 4;

    private static final double PADDING_MM = 2;
    private static final double LARGEST_CODE_MM = 32;
    private static final double LEAST_NAME = 7;
    private static final double SMALLEST = 6;

    private final PDDocument document;
    private final LabelLayout layout;
    private final Typeface type;

    private LabelPrinter(PDDocument document, LabelLayout layout) throws IOException {
        this.document = document;
        this.layout = layout;
        this.type = new Typeface(document);
    }

    /**
     * @param first label of the first sheet to be printed on, from 1, row by row
     * @throws IllegalArgumentException if there is no label, or {@code first} lies beyond a sheet
     */
    public static byte[] print(
            List<Label> labels,
            LabelLayout layout,
            int first,
            String title,
            String language,
            Instant at) {
        if (labels.isEmpty() || first < 1 || first > layout.onASheet()) {
            throw new IllegalArgumentException(
                    labels.size() + " labels from " + first + " on " + layout.id());
        }
        try (PDDocument document = new PDDocument()) {
            PdfPrinter.describe(document, title, at);
            document.getDocumentCatalog().setLanguage(language);
            new LabelPrinter(document, layout).print(labels, first - 1);
            ByteArrayOutputStream bytes = new ByteArrayOutputStream(64 * 1_024);
            document.save(bytes);
            return bytes.toByteArray();
        } catch (IOException e) {
            throw new UncheckedIOException("the labels could not be printed", e);
        }
    }

    private void print(List<Label> labels, int skipped) throws IOException {
        int done = 0;
        while (done < labels.size()) {
            int from = done == 0 ? skipped : 0;
            PDPage page =
                    new PDPage(
                            new PDRectangle(
                                    (float) Leaves.mm(layout.paperWidth_mm()),
                                    (float) Leaves.mm(layout.paperHeight_mm())));
            document.addPage(page);
            try (PDPageContentStream out = new PDPageContentStream(document, page)) {
                for (int at = from; at < layout.onASheet() && done < labels.size(); at++) {
                    print(out, labels.get(done++), at % layout.columns(), at / layout.columns());
                }
            }
        }
    }

    private void print(PDPageContentStream out, Label label, int column, int row)
            throws IOException {
        double left =
                layout.left_mm() + PADDING_MM + column * (layout.width_mm() + layout.gapX_mm());
        double top =
                layout.paperHeight_mm()
                        - layout.top_mm()
                        - row * (layout.height_mm() + layout.gapY_mm());
        double code = Math.min(LARGEST_CODE_MM, layout.height_mm() - 2 * PADDING_MM);
        double bottom = top - (layout.height_mm() + code) / 2;
        code(out, label.address(), Leaves.mm(left), Leaves.mm(bottom), Leaves.mm(code));
        double words = left + code + PADDING_MM;
        double width = layout.width_mm() - 3 * PADDING_MM - code;
        words(out, label, Leaves.mm(words), Leaves.mm(top - PADDING_MM), Leaves.mm(width));
    }

    /** Squares of one row that touch are painted as one, so that no hair of paper shows between. */
    private static void code(
            PDPageContentStream out, String address, double left, double bottom, double size)
            throws IOException {
        BitMatrix matrix = matrix(address);
        double module = size / matrix.getWidth();
        out.setNonStrokingColor(Color.BLACK);
        for (int y = 0; y < matrix.getHeight(); y++) {
            for (int x = 0; x < matrix.getWidth(); x++) {
                int from = x;
                while (x < matrix.getWidth() && matrix.get(x, y)) {
                    x++;
                }
                if (x > from) {
                    out.addRect(
                            (float) (left + from * module),
                            (float) (bottom + size - (y + 1) * module),
                            (float) ((x - from) * module),
                            (float) module);
                }
            }
        }
        out.fill();
    }

    static BitMatrix matrix(String address) {
        try {
            return new QRCodeWriter()
                    .encode(
                            address,
                            BarcodeFormat.QR_CODE,
                            1,
                            1,
                            Map.of(
                                    EncodeHintType.ERROR_CORRECTION,
                                    ErrorCorrectionLevel.M,
                                    EncodeHintType.MARGIN,
                                    QUIET_MODULES,
                                    EncodeHintType.CHARACTER_SET,
                                    StandardCharsets.UTF_8.name()));
        } catch (WriterException e) {
            throw new IllegalArgumentException(
                    "an address of " + address.length() + " characters fits no code", e);
        }
    }

    /** The name as large as two lines of it fit, then as many lines as there is room for. */
    private void words(PDPageContentStream out, Label label, double x, double top, double width)
            throws IOException {
        double height = Leaves.mm(layout.height_mm() - 2 * PADDING_MM);
        double size = Math.min(22, height / 3.2);
        List<String> name = type.lines(label.name(), size, true, width);
        while (size > LEAST_NAME && (name.size() > 2 || split(label.name(), name))) {
            size -= 0.5;
            name = type.lines(label.name(), size, true, width);
        }
        double y = top;
        for (int i = 0; i < Math.min(2, name.size()); i++) {
            boolean cut = i == 1 && name.size() > 2;
            String line = cut ? type.shortened(name.get(i) + "…", size, true, width) : name.get(i);
            y -= size;
            TextPainter.paint(out, type, line, x, y, size, true, Ink.INK.light());
            y -= size * 0.2;
        }
        double small = Math.max(SMALLEST, Math.min(9, height / 8));
        for (String line : label.lines()) {
            if (y - small * 1.25 < top - height) {
                break;
            }
            y -= small * 1.25;
            TextPainter.paint(
                    out,
                    type,
                    type.shortened(line, small, false, width),
                    x,
                    y,
                    small,
                    false,
                    Ink.INK.light());
        }
    }

    /** Whether a word of the name had to be broken, which looks worse than smaller letters. */
    private static boolean split(String name, List<String> lines) {
        return !String.join(" ", lines).equals(name.strip().replaceAll("\\s+", " "));
    }
}
