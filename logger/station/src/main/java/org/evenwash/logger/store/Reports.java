package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/** Rows of {@code report}. */
public final class Reports {
    private Reports() {}

    /** Marks what was handed out about a wash as overtaken; its content stays as it was. */
    public static int supersede(Handle handle, UUID washId, String why, Instant at) {
        return handle.createUpdate(
                        """
                        UPDATE report SET superseded_at = :at, superseded_why = :why
                        WHERE superseded_at IS NULL
                            AND id IN (SELECT report_id FROM report_wash WHERE wash_id = :wash)""")
                .bind("at", at)
                .bind("why", why)
                .bind("wash", washId)
                .execute();
    }
}
