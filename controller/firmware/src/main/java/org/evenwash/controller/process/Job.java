package org.evenwash.controller.process;

import java.util.List;

/**
 * What the next start would do: a recipe, the jars it is for, and what is known of the spirit. It
 * is shown at the panel before the start and frozen into the cycle by it. A ticket or a choice at
 * the panel makes one; loading it moves nothing.
 *
 * @param recipe null when nothing is loaded
 * @param flashPoint_C of the loaded spirit, °C; NaN when the ticket does not say, and then the
 *     bench assumes its cautious configured value
 */
public record Job(Recipe recipe, List<Position> positions, double flashPoint_C) {
    public static final Job NONE = new Job(null, List.of(), Double.NaN);

    public Job {
        positions = List.copyOf(positions);
    }

    /** A recipe chosen at the panel for one jar nobody announced. */
    public static Job of(Recipe recipe) {
        return new Job(recipe, List.of(Position.unassigned(1)), Double.NaN);
    }

    int jars() {
        int bits = 0;
        for (int i = 0; i < positions.size(); i++) {
            bits |= positions.get(i).bit();
        }
        return bits;
    }
}
