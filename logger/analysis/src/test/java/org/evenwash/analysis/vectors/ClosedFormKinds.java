package org.evenwash.analysis.vectors;

import java.util.Map;

/** The kinds with a closed form: infestation, bee count, recovery, apiary, efficacy. */
final class ClosedFormKinds {

    private ClosedFormKinds() {}

    static Map<String, Kind> kinds() {
        return Map.of();
    }
}
