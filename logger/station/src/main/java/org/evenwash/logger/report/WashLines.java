package org.evenwash.logger.report;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.logger.store.Listing;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.wash.Workplace;

/** All washes that a filter lets through, page by page. */
final class WashLines {
    private WashLines() {}

    /** Newest first. */
    static List<WashLine> all(Workplace place, WashFilter filter) {
        List<WashLine> all = new ArrayList<>();
        for (int number = 1; ; number++) {
            Listing<WashLine> page = place.washes().list(filter, new Page(number, Page.MOST));
            all.addAll(page.rows());
            if (!page.hasNext()) {
                return all;
            }
        }
    }
}
