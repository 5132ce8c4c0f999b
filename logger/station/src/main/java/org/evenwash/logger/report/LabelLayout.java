package org.evenwash.logger.report;

import java.util.List;

/**
 * A sheet of labels by its measures, millimetres. Common practice, no source: the usual grids on A4, and
 * single labels as label printers take them.
 *
 * @param id short name used in requests
 * @param columns on a sheet
 * @param rows on a sheet
 * @param left_mm of the first label from the paper's left edge
 * @param top_mm of the first label from the paper's upper edge
 * @param gapX_mm between two labels of a row
 * @param gapY_mm between two rows
 */
public record LabelLayout(
        String id,
        double paperWidth_mm,
        double paperHeight_mm,
        int columns,
        int rows,
        double width_mm,
        double height_mm,
        double left_mm,
        double top_mm,
        double gapX_mm,
        double gapY_mm) {

    public static final List<LabelLayout> ALL =
            List.of(
                    sheet("a4-24", 3, 8, 70, 37, 0, 0.5, 0, 0),
                    sheet("a4-21", 3, 7, 63.5, 38.1, 7.25, 15.15, 2.5, 0),
                    sheet("a4-14", 2, 7, 99.1, 38.1, 4.65, 15.15, 2.5, 0),
                    sheet("a4-10", 2, 5, 105, 57, 0, 6, 0, 0),
                    single("62x29", 62, 29),
                    single("57x32", 57, 32),
                    single("89x36", 89, 36),
                    single("100x50", 100, 50));

    private static LabelLayout sheet(
            String id,
            int columns,
            int rows,
            double width,
            double height,
            double left,
            double top,
            double gapX,
            double gapY) {
        return new LabelLayout(id, 210, 297, columns, rows, width, height, left, top, gapX, gapY);
    }

    private static LabelLayout single(String id, double width, double height) {
        return new LabelLayout(id, width, height, 1, 1, width, height, 0, 0, 0, 0);
    }

    public int onASheet() {
        return columns * rows;
    }

    public boolean single() {
        return onASheet() == 1;
    }
}
