/**
 * All data in and out: old records from CSV files, and everything that is kept as CSV and JSON. Pages,
 * API and CLI use the same services.
 */
package org.evenwash.logger.transfer;
