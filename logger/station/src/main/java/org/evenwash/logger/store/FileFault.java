package org.evenwash.logger.store;

import java.util.Optional;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

/** What SQLite says about a file, told apart by what a person can do about it. */
enum FileFault {
    DAMAGED("the file is damaged"),
    NO_DATABASE("the file is no database"),
    NO_ROOM("its disk is full; make room there"),
    NOT_WRITABLE("its folder is missing or may not be written; let this user write there"),
    DISK_FAILS("its disk cannot be read or written; look at the disk");

    private final String words;

    FileFault(String words) {
        this.words = words;
    }

    /** What is wrong and what to do, as the end of a sentence. */
    String words() {
        return words;
    }

    /** Empty for what is not the file's fault, such as another program that is using it. */
    static Optional<FileFault> in(Throwable trouble) {
        for (Throwable cause = trouble; cause != null; cause = cause.getCause()) {
            if (cause instanceof SQLiteException told) {
                return Optional.ofNullable(of(told.getResultCode()));
            }
        }
        return Optional.empty();
    }

    private static FileFault of(SQLiteErrorCode code) {
        // With a full disk the write-ahead log's index is what cannot be made first.
        if (code == SQLiteErrorCode.SQLITE_IOERR_SHMSIZE) {
            return NO_ROOM;
        }
        // The lower byte tells the kind, what is above it the case.
        int kind = code.code & 0xff;
        if (kind == SQLiteErrorCode.SQLITE_CORRUPT.code) {
            return DAMAGED;
        }
        if (kind == SQLiteErrorCode.SQLITE_NOTADB.code) {
            return NO_DATABASE;
        }
        if (kind == SQLiteErrorCode.SQLITE_FULL.code) {
            return NO_ROOM;
        }
        if (kind == SQLiteErrorCode.SQLITE_READONLY.code
                || kind == SQLiteErrorCode.SQLITE_CANTOPEN.code
                || kind == SQLiteErrorCode.SQLITE_PERM.code) {
            return NOT_WRITABLE;
        }
        return kind == SQLiteErrorCode.SQLITE_IOERR.code ? DISK_FAILS : null;
    }
}
