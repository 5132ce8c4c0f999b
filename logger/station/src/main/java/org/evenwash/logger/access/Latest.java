package org.evenwash.logger.access;

import java.util.LinkedHashMap;
import java.util.Map;

/** What was asked for last, by name; strangers choose the names, so the eldest go. */
final class Latest<V> extends LinkedHashMap<String, V> {
    private static final long serialVersionUID = 1L;
    private static final int MOST = 10_000;

    Latest() {
        super(16, 0.75f, true);
    }

    @Override
    protected boolean removeEldestEntry(Map.Entry<String, V> eldest) {
        return size() > MOST;
    }
}
