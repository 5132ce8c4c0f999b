package org.evenwash.logger.wash;

import java.util.LinkedHashMap;
import java.util.Map;

/**
 * What was asked for last: beyond so many entries, the one goes that was not asked for the longest.
 */
public final class Latest<K, V> extends LinkedHashMap<K, V> {
    private static final long serialVersionUID = 1L;

    private final int most;

    public Latest(int most) {
        super(16, 0.75f, true);
        this.most = most;
    }

    @Override
    protected boolean removeEldestEntry(Map.Entry<K, V> eldest) {
        return size() > most;
    }
}
