package org.evenwash.logger.store;

/**
 * Which part of a list is wanted.
 *
 * @param number counted from 1
 * @param size rows on a page, 1 to {@value #MOST}
 */
public record Page(int number, int size) {
    public static final int MOST = 500;

    public Page {
        if (number < 1 || number > 10_000_000) {
            throw new IllegalArgumentException("page number " + number + ", expected at least 1");
        }
        if (size < 1 || size > MOST) {
            throw new IllegalArgumentException("page size " + size + ", expected 1 to " + MOST);
        }
    }

    public static Page first(int size) {
        return new Page(1, size);
    }

    long offset() {
        return (long) (number - 1) * size;
    }
}
