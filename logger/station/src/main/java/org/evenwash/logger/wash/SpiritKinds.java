package org.evenwash.logger.wash;

import java.util.Locale;
import java.util.Optional;
import org.evenwash.analysis.spirit.Spirit;

/** What a label's words mean for strength and flash point. */
public final class SpiritKinds {
    private SpiritKinds() {}

    /**
     * Methylated and denatured spirit count as ethanol, which they mostly are. Empty for words that say
     * too little: "rubbing alcohol" may be either.
     */
    public static Optional<Spirit> of(String label) {
        String words = label.toLowerCase(Locale.ROOT);
        if (words.contains("propan") || words.contains("propyl")) {
            return Optional.of(Spirit.PROPANOL_2);
        }
        boolean ethanol =
                words.contains("ethanol")
                        || words.contains("ethyl")
                        || words.contains("methylated")
                        || words.contains("denatured");
        return ethanol && !words.contains("methanol")
                ? Optional.of(Spirit.ETHANOL)
                : Optional.empty();
    }
}
