package org.evenwash.logger.cli;

import java.util.ArrayList;
import java.util.List;

/** Long sentences in lines that a terminal shows whole. */
final class Wrapped {
    static final int WIDTH = 92;

    private Wrapped() {}

    /** The text in lines; the first begins with {@code first}, the others are indented as far. */
    static List<String> lines(String first, String text) {
        String indent = " ".repeat(first.length());
        List<String> lines = new ArrayList<>();
        StringBuilder line = new StringBuilder(first);
        boolean empty = true;
        for (String word : text.split(" ")) {
            if (!empty && line.length() + 1 + word.length() > WIDTH) {
                lines.add(line.toString());
                line = new StringBuilder(indent);
                empty = true;
            }
            line.append(empty ? "" : " ").append(word);
            empty = false;
        }
        lines.add(line.toString());
        return lines;
    }
}
