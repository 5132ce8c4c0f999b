package org.evenwash.logger.wash;

import java.util.List;
import org.evenwash.logger.store.Correction;

/** Somebody else changed the same thing first; nothing of either entry is lost. */
public final class EditedMeanwhile extends Refused {
    private static final long serialVersionUID = 1L;

    private final long currentVersion;
    private final transient List<Correction> changes;

    EditedMeanwhile(String where, long currentVersion, List<Correction> changes) {
        super(
                Kind.CONFLICT,
                where,
                "was changed by someone else since you opened it",
                "look at the change and enter yours again if it still holds");
        this.currentVersion = currentVersion;
        this.changes = List.copyOf(changes);
    }

    /** The version to name in the next attempt. */
    public long currentVersion() {
        return currentVersion;
    }

    /** What was changed since the version that was named, oldest first. */
    public List<Correction> changes() {
        return changes;
    }
}
