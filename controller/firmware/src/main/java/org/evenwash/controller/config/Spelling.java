package org.evenwash.controller.config;

import java.util.Collection;
import java.util.Comparator;
import java.util.Locale;
import java.util.Optional;

/** Finds the word that was probably meant. */
final class Spelling {
    private Spelling() {}

    /** The known word nearest to {@code written}, if it is near enough to be the one meant. */
    static Optional<String> nearest(String written, Collection<String> known) {
        String begun = written.toLowerCase(Locale.ROOT);
        // A unit left off is the likeliest slip.
        Optional<String> longer =
                known.stream()
                        .filter(word -> word.toLowerCase(Locale.ROOT).startsWith(begun + "_"))
                        .findFirst();
        return longer.isPresent() ? longer : similar(written, known);
    }

    private static Optional<String> similar(String written, Collection<String> known) {
        int most = Math.max(2, written.length() / 3);
        return known.stream()
                .min(Comparator.comparingInt(word -> distance(written, word)))
                .filter(word -> distance(written, word) <= most);
    }

    /** Levenshtein's distance, 1966: insertions, deletions and substitutions, case apart. */
    static int distance(String a, String b) {
        String left = a.toLowerCase(Locale.ROOT);
        String right = b.toLowerCase(Locale.ROOT);
        int[] row = new int[right.length() + 1];
        for (int j = 0; j <= right.length(); j++) {
            row[j] = j;
        }
        for (int i = 1; i <= left.length(); i++) {
            int diagonal = row[0];
            row[0] = i;
            for (int j = 1; j <= right.length(); j++) {
                int substitution = diagonal + (left.charAt(i - 1) == right.charAt(j - 1) ? 0 : 1);
                diagonal = row[j];
                row[j] = Math.min(substitution, Math.min(row[j], row[j - 1]) + 1);
            }
        }
        return row[right.length()];
    }
}
