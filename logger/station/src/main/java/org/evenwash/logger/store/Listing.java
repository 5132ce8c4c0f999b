package org.evenwash.logger.store;

import java.util.List;

/** One page of a list, and how long the whole list is. */
public record Listing<T>(List<T> rows, long total, Page page) {
    public Listing {
        rows = List.copyOf(rows);
    }

    public long pages() {
        return Math.max(1, (total + page.size() - 1) / page.size());
    }

    public boolean hasNext() {
        return page.number() < pages();
    }
}
