/** Tables as Java records, and the SQL that reads and writes them; one class for each aggregate. */
package org.evenwash.logger.store;
