package org.evenwash.logger.transfer;

/** Told now and then how far a long work is. */
public interface Progress {
    Progress NONE = (done, total) -> {};

    void at(long done, long total);
}
