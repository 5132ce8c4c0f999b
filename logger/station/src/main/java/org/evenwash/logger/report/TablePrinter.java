package org.evenwash.logger.report;

import java.awt.Color;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDStructureElement;
import org.evenwash.logger.chart.Ink;
import org.evenwash.logger.chart.Picture;

/**
 * Prints tables. A row stays whole where a page can hold it and is cut between lines where none can; the
 * heads stand again on each page.
 */
final class TablePrinter {
    private static final double SIZE = 9;
    private static final double GAP = 8;
    private static final double AIR = 3;
    private static final double NAME_SHARE = 0.27;
    private static final Color RULE = new Color(0xCFCBC0);

    /** Facts up to this share of a page are kept together. */
    private static final double WHOLE = 0.4;

    private final Leaves leaves;
    private final Typeface type;
    private final Tags tags;

    TablePrinter(Leaves leaves, Typeface type, Tags tags) {
        this.leaves = leaves;
        this.type = type;
        this.tags = tags;
    }

    /** A row laid out: each cell's lines, its picture and how large that is. */
    private record Laid(List<List<String>> lines, List<Picture> pictures, double pictureHeight) {
        int most() {
            return lines.stream().mapToInt(List::size).max().orElse(0);
        }

        double height() {
            return most() * SIZE * Leaves.LEADING + pictureHeight + 2 * AIR;
        }
    }

    /** Where a column stands. */
    private record Place(double x, double width, boolean number) {}

    void table(Block.Table table) throws IOException {
        List<Place> places = places(table.columns());
        PDStructureElement element = Tags.under(tags.document(), "Table");
        Laid heads =
                laid(
                        table.columns().stream().map(one -> Block.Cell.of(one.title())).toList(),
                        places,
                        true);
        boolean begun = false;
        for (List<Block.Cell> row : table.rows()) {
            Laid laid = laid(row, places, false);
            double needs = laid.height() + (begun ? 0 : heads.height());
            boolean turned = leaves.ensure(Math.min(needs, leaves.height()));
            if (!begun || turned) {
                row(Tags.under(element, "TR"), "TH", heads, places, true);
                begun = true;
            }
            row(Tags.under(element, "TR"), "TD", laid, places, false);
            leaves.rule(Leaves.MARGIN, Leaves.MARGIN + leaves.width(), leaves.y(), RULE, 0.5);
        }
        leaves.down(6);
    }

    /** Names left, values right; no rules between. */
    void facts(Block.Facts facts) throws IOException {
        double names = leaves.width() * NAME_SHARE;
        List<Place> places =
                List.of(
                        new Place(Leaves.MARGIN, names - GAP, false),
                        new Place(Leaves.MARGIN + names, leaves.width() - names, false));
        List<Laid> rows = new ArrayList<>();
        for (Block.Fact fact : facts.facts()) {
            rows.add(
                    new Laid(
                            List.of(
                                    type.lines(fact.name(), SIZE, false, places.get(0).width()),
                                    type.lines(fact.value(), SIZE, false, places.get(1).width())),
                            List.of(),
                            -1.4 * AIR));
        }
        double all = rows.stream().mapToDouble(Laid::height).sum();
        if (all <= WHOLE * leaves.height()) {
            leaves.ensure(all);
        }
        PDStructureElement element = Tags.under(tags.document(), "Table");
        for (Laid laid : rows) {
            leaves.ensure(Math.min(laid.height(), leaves.height()));
            PDStructureElement row = Tags.under(element, "TR");
            lines(
                    List.of(Tags.under(row, "TH"), Tags.under(row, "TD")),
                    laid,
                    places,
                    false,
                    List.of(Ink.MUTED, Ink.INK));
        }
        leaves.down(6);
    }

    private List<Place> places(List<Block.Column> columns) {
        double shares = columns.stream().mapToDouble(Block.Column::share).sum();
        double room = leaves.width() - GAP * (columns.size() - 1);
        List<Place> places = new ArrayList<>();
        double x = Leaves.MARGIN;
        for (Block.Column column : columns) {
            double width = room * column.share() / shares;
            places.add(new Place(x, width, column.number()));
            x += width + GAP;
        }
        return places;
    }

    private Laid laid(List<Block.Cell> cells, List<Place> places, boolean bold) throws IOException {
        List<List<String>> lines = new ArrayList<>();
        List<Picture> pictures = new ArrayList<>();
        double picture = 0;
        for (int i = 0; i < cells.size(); i++) {
            Block.Cell cell = cells.get(i);
            double width = places.get(i).width();
            lines.add(
                    cell.text().isEmpty() ? List.of() : type.lines(cell.text(), SIZE, bold, width));
            pictures.add(cell.picture());
            if (cell.picture() != null) {
                picture = Math.max(picture, cell.picture().height() * scale(cell.picture(), width));
            }
        }
        return new Laid(lines, pictures, picture);
    }

    private static double scale(Picture picture, double width) {
        return Math.min(0.75, width / picture.width());
    }

    private void row(
            PDStructureElement row, String cell, Laid laid, List<Place> places, boolean head)
            throws IOException {
        List<PDStructureElement> elements = new ArrayList<>();
        List<Ink> inks = new ArrayList<>();
        for (int i = 0; i < places.size(); i++) {
            elements.add(Tags.under(row, cell));
            inks.add(head ? Ink.MUTED : Ink.INK);
        }
        leaves.down(AIR);
        double top = leaves.y();
        lines(elements, laid, places, head, inks);
        for (int i = 0; i < laid.pictures().size(); i++) {
            Picture picture = laid.pictures().get(i);
            if (picture != null) {
                PDStructureElement figure = Tags.under(elements.get(i), "Figure");
                figure.setAlternateDescription(picture.description());
                tags.begin(leaves.out(), leaves.page(), figure);
                Place place = places.get(i);
                double beneath = laid.lines().get(i).size() * SIZE * Leaves.LEADING;
                PicturePdf.paint(
                        leaves.out(),
                        type,
                        picture,
                        place.x(),
                        top - beneath,
                        scale(picture, place.width()));
                leaves.out().endMarkedContent();
            }
        }
        leaves.down(laid.pictureHeight() + AIR);
        if (head) {
            leaves.rule(
                    Leaves.MARGIN,
                    Leaves.MARGIN + leaves.width(),
                    leaves.y(),
                    Ink.INK.light(),
                    0.6);
        }
    }

    /** Cell by cell, as they are read; only a row that no page can hold goes line by line. */
    private void lines(
            List<PDStructureElement> elements,
            Laid laid,
            List<Place> places,
            boolean bold,
            List<Ink> inks)
            throws IOException {
        double leading = SIZE * Leaves.LEADING;
        if (laid.most() * leading > leaves.left()) {
            for (int line = 0; line < laid.most(); line++) {
                leaves.ensure(leading);
                for (int i = 0; i < places.size(); i++) {
                    line(
                            elements.get(i),
                            laid.lines().get(i),
                            line,
                            0,
                            places.get(i),
                            bold,
                            inks.get(i));
                }
                leaves.down(leading);
            }
            return;
        }
        for (int i = 0; i < places.size(); i++) {
            for (int line = 0; line < laid.lines().get(i).size(); line++) {
                line(
                        elements.get(i),
                        laid.lines().get(i),
                        line,
                        line * leading,
                        places.get(i),
                        bold,
                        inks.get(i));
            }
        }
        leaves.down(laid.most() * leading);
    }

    private void line(
            PDStructureElement element,
            List<String> lines,
            int line,
            double beneath,
            Place place,
            boolean bold,
            Ink ink)
            throws IOException {
        if (line >= lines.size() || lines.get(line).isEmpty()) {
            return;
        }
        String text = lines.get(line);
        double x =
                place.number()
                        ? place.x() + place.width() - type.width(text, SIZE, bold)
                        : place.x();
        tags.begin(leaves.out(), leaves.page(), element);
        leaves.line(text, x, leaves.y() - beneath - SIZE, SIZE, bold, ink);
        leaves.out().endMarkedContent();
    }
}
