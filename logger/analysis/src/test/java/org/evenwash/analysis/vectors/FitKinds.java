package org.evenwash.analysis.vectors;

import java.util.Map;

/** The kinds that need a fit, a permutation or a chart: agitation time, operators, trend. */
final class FitKinds {

    private FitKinds() {}

    static Map<String, Kind> kinds() {
        return Map.of();
    }
}
