package org.evenwash.logger.cli;

import java.util.ArrayList;
import java.util.List;

/** Rows in columns as wide as needed: the first to the left, as it names the row, numbers to the right. */
final class TextTable {
    private static final String GAP = "   ";

    private final List<List<String>> rows = new ArrayList<>();

    TextTable(String... headings) {
        rows.add(List.of(headings));
    }

    TextTable row(String... cells) {
        if (cells.length != rows.get(0).size()) {
            throw new IllegalStateException(
                    cells.length + " cells, " + rows.get(0).size() + " columns");
        }
        rows.add(List.of(cells));
        return this;
    }

    boolean isEmpty() {
        return rows.size() == 1;
    }

    List<String> lines() {
        List<String> lines = new ArrayList<>();
        for (int r = 0; r < rows.size(); r++) {
            StringBuilder line = new StringBuilder();
            for (int c = 0; c < rows.get(r).size(); c++) {
                String cell = rows.get(r).get(c);
                String padding = " ".repeat(width(c) - length(cell));
                line.append(c == 0 ? "" : GAP).append(toRight(c) ? padding + cell : cell + padding);
            }
            lines.add(line.toString().stripTrailing());
            if (r == 0) {
                lines.add("-".repeat(fullWidth()));
            }
        }
        return lines;
    }

    private int fullWidth() {
        int width = -GAP.length();
        for (int c = 0; c < rows.get(0).size(); c++) {
            width += GAP.length() + width(c);
        }
        return width;
    }

    private int width(int column) {
        return rows.stream().mapToInt(row -> length(row.get(column))).max().orElse(0);
    }

    private static int length(String cell) {
        return cell.codePointCount(0, cell.length());
    }

    /** A column of nothing but numbers, empty cells aside. */
    private boolean toRight(int column) {
        boolean numbers = false;
        for (List<String> row : rows.subList(1, rows.size())) {
            String cell = row.get(column);
            if (!cell.isEmpty()) {
                if (Decimals.read(cell.replace("%", "").replace("~", "").strip()).isEmpty()) {
                    return false;
                }
                numbers = true;
            }
        }
        return numbers;
    }
}
