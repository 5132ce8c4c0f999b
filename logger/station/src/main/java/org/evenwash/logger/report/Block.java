package org.evenwash.logger.report;

import java.util.List;
import java.util.Map;
import org.evenwash.logger.chart.Drawing;
import org.evenwash.logger.chart.Picture;

/** One piece of a report. */
public sealed interface Block {
    /** What it says, as a program reads it. */
    Map<String, Object> words();

    /** Opens a part of the report; it stands in the bookmarks of the PDF. */
    record Heading(String text) implements Block {
        @Override
        public Map<String, Object> words() {
            return Map.of("heading", text);
        }
    }

    /** How loud a paragraph speaks. */
    enum Tone {
        PLAIN,
        MUTED,
        /** Set apart: what a reader must not miss. */
        NOTE
    }

    record Paragraph(String text, Tone tone) implements Block {
        @Override
        public Map<String, Object> words() {
            return Map.of("text", text);
        }
    }

    /**
     * The one number that matters.
     *
     * @param figure such as 0.67
     * @param unit in words
     * @param limits the sentence beneath it
     */
    record Figure(String figure, String unit, String limits) implements Block {
        @Override
        public Map<String, Object> words() {
            return Map.of("figure", figure, "unit", unit, "limits", limits);
        }
    }

    /** Something known by its name. */
    record Fact(String name, String value) {}

    record Facts(List<Fact> facts) implements Block {
        public Facts {
            facts = List.copyOf(facts);
        }

        @Override
        public Map<String, Object> words() {
            return Map.of("facts", facts);
        }
    }

    /**
     * Head of a column.
     *
     * @param share of the table's width, against the other columns
     */
    record Column(String title, boolean number, double share) {}

    /** @param picture null where there is none */
    record Cell(String text, Picture picture) {
        public static Cell of(String text) {
            return new Cell(text, null);
        }
    }

    record Table(List<Column> columns, List<List<Cell>> rows) implements Block {
        public Table {
            columns = List.copyOf(columns);
            rows = List.copyOf(rows);
        }

        @Override
        public Map<String, Object> words() {
            return Map.of(
                    "columns",
                    columns.stream().map(Column::title).toList(),
                    "rows",
                    rows.stream().map(row -> row.stream().map(Cell::text).toList()).toList());
        }
    }

    /** A small picture of our own: interval bar, cycle strip. */
    record Art(Picture picture) implements Block {
        @Override
        public Map<String, Object> words() {
            return Map.of("picture", picture.title(), "description", picture.description());
        }
    }

    /** A chart of the chart library. */
    record Chart(Drawing drawing) implements Block {
        @Override
        public Map<String, Object> words() {
            return Map.of("picture", drawing.title(), "description", drawing.description());
        }
    }

    /** One photo, already as large as it is printed. */
    final class Photo {
        private final byte[] jpeg;
        private final int width;
        private final int height;
        private final String caption;

        Photo(byte[] jpeg, int width, int height, String caption) {
            this.jpeg = jpeg;
            this.width = width;
            this.height = height;
            this.caption = caption;
        }

        byte[] jpeg() {
            return jpeg;
        }

        /** Pixels. */
        public int width() {
            return width;
        }

        /** Pixels. */
        public int height() {
            return height;
        }

        public String caption() {
            return caption;
        }
    }

    record Photos(List<Photo> photos) implements Block {
        public Photos {
            photos = List.copyOf(photos);
        }

        @Override
        public Map<String, Object> words() {
            return Map.of("photos", photos.stream().map(Photo::caption).toList());
        }
    }

    /** @param ordered numbered from 1 */
    record Lines(List<String> lines, boolean ordered) implements Block {
        public Lines {
            lines = List.copyOf(lines);
        }

        @Override
        public Map<String, Object> words() {
            return Map.of("lines", lines);
        }
    }
}
