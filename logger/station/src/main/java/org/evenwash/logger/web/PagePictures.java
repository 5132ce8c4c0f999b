package org.evenwash.logger.web;

import java.util.Optional;
import java.util.function.Function;
import org.evenwash.logger.chart.Drawing;
import org.evenwash.logger.wash.Remembered;

/**
 * Charts of a page, painted anew only when what they show has changed.
 *
 * @param <Q> all that a chart shows, its title included
 */
final class PagePictures<Q> {
    private final Remembered<Q, Optional<String>> painted = new Remembered<>();

    /** SVG text, null where there is nothing to draw. */
    String svg(Q shown, Function<Q, Optional<Drawing>> chart) {
        return painted.answer(shown, asked -> chart.apply(asked).map(Drawing::svgInPage))
                .orElse(null);
    }
}
