package org.evenwash.logger.report;

import java.util.List;

/**
 * What one label says.
 *
 * @param address that its code holds
 * @param name in large letters
 * @param lines beneath it; they are cut short rather than run over the edge
 */
public record Label(String address, String name, List<String> lines) {
    public Label {
        lines = List.copyOf(lines);
    }
}
