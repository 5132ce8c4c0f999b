/**
 * From MQTT into the database. A callback only queues; one thread reads, commits in batches, and only
 * then acknowledges and sends receipts.
 */
package org.evenwash.logger.intake;
