package org.evenwash.analysis.protocol;

/**
 * Where a number was published.
 *
 * @param citation the work as one would cite it, or "own rule" and whose
 * @param edition year or edition, since guidance changes
 * @param address where it can be read; empty where there is none
 */
public record Source(String citation, String edition, String address) {
    public Source {
        if (citation.isBlank() || edition.isBlank()) {
            throw new IllegalArgumentException("a source needs a citation and an edition");
        }
    }

    @Override
    public String toString() {
        return citation + " (" + edition + ")";
    }
}
