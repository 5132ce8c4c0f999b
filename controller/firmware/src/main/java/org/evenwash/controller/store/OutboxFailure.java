package org.evenwash.controller.store;

import java.sql.SQLException;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

/** The storage did not do what was asked of it. */
public final class OutboxFailure extends RuntimeException {
    private static final long serialVersionUID = 1L;

    private final boolean full;

    OutboxFailure(String what, SQLException cause) {
        super("cannot " + what + ": " + cause.getMessage(), cause);
        this.full =
                cause instanceof SQLiteException sqlite
                        && sqlite.getResultCode() == SQLiteErrorCode.SQLITE_FULL;
    }

    /** True when there was no room. */
    public boolean full() {
        return full;
    }
}
