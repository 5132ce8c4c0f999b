package org.evenwash.logger.report;

import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * What a report is to say, before it has a number.
 *
 * @param inputs what it was made of, kept as JSON
 * @param results in full digits, kept as JSON
 * @param methodVersion of the ways in which the results were worked out
 * @param protocol name and edition, null where none was asked
 * @param threshold id and edition, null where none is chosen
 * @param basis keys of what it rests on; see {@link org.evenwash.logger.store.Reports.Content}
 */
record Draft(
        String title,
        String subtitle,
        List<Block> blocks,
        Map<String, Object> inputs,
        Map<String, Object> results,
        String methodVersion,
        String protocol,
        String threshold,
        Set<String> basis) {
    Draft {
        blocks = List.copyOf(blocks);
        basis = Set.copyOf(basis);
    }
}
