package org.evenwash.logger.web;

import java.util.ArrayList;
import java.util.List;

/** Readings typed one a line, numbers apart by spaces; a semicolon ends a line as well. */
final class NumberLines {
    private static final int LONGEST = 8_000;

    private NumberLines() {}

    /**
     * @param columns numbers expected in a line
     * @return the lines that could be read; a mistake in any other is noted with {@code in}
     */
    static List<double[]> read(Input in, String field, int columns) {
        String text = in.text(field, LONGEST);
        List<double[]> lines = new ArrayList<>();
        if (text == null) {
            return lines;
        }
        int number = 0;
        for (String line : text.split("[\\n;]")) {
            number++;
            if (line.isBlank()) {
                continue;
            }
            double[] numbers = numbers(line.strip().split("\\s+"), columns);
            if (numbers.length == columns) {
                lines.add(numbers);
            } else {
                in.mistake(field, "bad.line", number, line.strip(), columns);
            }
        }
        return lines;
    }

    /** Empty where they cannot be read. */
    private static double[] numbers(String[] words, int columns) {
        double[] numbers = new double[columns];
        if (words.length != columns) {
            return new double[0];
        }
        for (int i = 0; i < columns; i++) {
            try {
                numbers[i] = Double.parseDouble(words[i].replace(',', '.'));
            } catch (NumberFormatException e) {
                return new double[0];
            }
            if (!(numbers[i] > 0 && numbers[i] <= 1e5)) {
                return new double[0];
            }
        }
        return numbers;
    }
}
