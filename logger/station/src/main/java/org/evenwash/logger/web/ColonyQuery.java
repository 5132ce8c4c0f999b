package org.evenwash.logger.web;

import io.javalin.http.Context;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.wash.ColonyList;

/** Which colonies an address asks for; the same for page and program. */
record ColonyQuery(ColonyList.Filter filter, ColonyList.Sort sort, int page) {

    static ColonyQuery of(Context ctx, Texts texts) {
        Query query = new Query(ctx, texts);
        String name = ctx.queryParam("name");
        ColonyList.Filter filter =
                new ColonyList.Filter(
                        query.id("apiaryId"),
                        query.choice("verdict", Verdict.Call.class, null),
                        name == null ? "" : name.strip(),
                        "true".equals(ctx.queryParam("ended")));
        return new ColonyQuery(
                filter,
                query.choice("sort", ColonyList.Sort.class, ColonyList.Sort.NAME),
                query.wholeNumber("page", 1, 100_000, 1));
    }
}
