package org.evenwash.logger.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.TypeConversionException;

/** What stands between the values of a row: found from the heading, or told. */
final class Separator implements ITypeConverter<Character> {
    private static final Map<Character, String> WORDS =
            Map.of(',', "comma", ';', "semicolon", '\t', "tab");
    private static final String CHOICES = "comma, semicolon or tab";

    @Override
    public Character convert(String word) {
        return WORDS.entrySet().stream()
                .filter(e -> e.getValue().equals(word) || word.equals(String.valueOf(e.getKey())))
                .map(Map.Entry::getKey)
                .findAny()
                .orElseThrow(() -> new TypeConversionException("expected " + CHOICES));
    }

    static String word(char separator) {
        return WORDS.get(separator);
    }

    /** The only one in the heading; a file of one column has none, and commas will do. */
    static char of(String name, String text) {
        List<Character> seen = new ArrayList<>();
        boolean quoted = false;
        boolean begun = false;
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            if (!quoted && (c == '\n' || c == '\r')) {
                if (begun) {
                    break;
                }
                continue;
            }
            begun |= !Character.isWhitespace(c);
            quoted ^= c == '"';
            if (!quoted && WORDS.containsKey(c) && !seen.contains(c)) {
                seen.add(c);
            }
        }
        if (seen.size() > 1) {
            throw new BadInput(
                    "The heading of "
                            + name
                            + " has more than one of "
                            + CHOICES
                            + ": say which separates the columns with --separator.");
        }
        return seen.isEmpty() ? ',' : seen.get(0);
    }
}
