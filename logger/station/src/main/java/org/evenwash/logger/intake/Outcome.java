package org.evenwash.logger.intake;

import java.util.UUID;
import org.evenwash.record.Receipt;

/**
 * What became of a record or event, once its transaction is through.
 *
 * @param benchId to whom the receipt goes, null if unknown
 * @param messageId null if unknown: no receipt can name it
 * @param reason why it was set aside, else null
 */
record Outcome(
        String benchId, UUID messageId, String sha256, Receipt.Result result, String reason) {

    boolean hasReceipt() {
        return benchId != null && messageId != null;
    }

    Receipt receipt() {
        return new Receipt(Receipt.SCHEMA, messageId, sha256, result, reason);
    }
}
