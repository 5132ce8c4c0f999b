package org.evenwash.logger.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * A report before it is printed: everything it says, in the order in which it is read. The HTML and the
 * PDF are printed from this and nothing else, so their figures cannot differ.
 *
 * @param reference number, day and maker in one line
 * @param language such as {@code en}
 * @param letterPaper true for 8.5 by 11 inches, else A4
 * @param demonstration a sentence for every page of a demonstration, null otherwise
 */
public record Document(
        String title,
        String subtitle,
        String reference,
        String language,
        boolean letterPaper,
        String demonstration,
        List<Block> blocks) {
    public Document {
        blocks = List.copyOf(blocks);
    }

    /** The words and figures as a tree, without the pictures: what a program reads of a report. */
    public Map<String, Object> words() {
        Map<String, Object> words = new LinkedHashMap<>();
        words.put("title", title);
        words.put("subtitle", subtitle);
        words.put("reference", reference);
        List<Object> said = new ArrayList<>();
        blocks.forEach(block -> said.add(block.words()));
        words.put("blocks", said);
        return words;
    }
}
