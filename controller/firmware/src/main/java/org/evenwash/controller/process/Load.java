package org.evenwash.controller.process;

import java.util.ArrayList;
import java.util.List;

/**
 * What is loaded for the next start, checked once when it changes and not on every scan.
 *
 * @param mistakes all that is wrong with it; empty when it may run
 */
record Load(Job job, List<String> mistakes) {
    static final Load NONE = new Load(null, List.of("nothing is loaded"));

    Load of(Job next, Settings settings) {
        return next.equals(job) ? this : new Load(next, mistakes(next, settings));
    }

    private static List<String> mistakes(Job job, Settings settings) {
        if (job.recipe() == null) {
            return List.of("nothing is loaded");
        }
        List<String> found =
                new ArrayList<>(job.recipe().mistakes(settings.limits().fastest_rpm()));
        if (job.positions().isEmpty()) {
            found.add("no jar position is given");
        }
        int seen = 0;
        for (Position jar : job.positions()) {
            if (jar.position() > settings.positions()) {
                found.add(
                        "position %d: this bench has %d"
                                .formatted(jar.position(), settings.positions()));
            }
            if ((seen & jar.bit()) != 0) {
                found.add("position " + jar.position() + ": given twice");
            }
            seen |= jar.bit();
        }
        return List.copyOf(found);
    }
}
