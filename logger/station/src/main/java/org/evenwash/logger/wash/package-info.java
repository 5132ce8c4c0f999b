/** What people do with washes: one service for each kind of work, used alike by pages, API, CLI and demo. */
package org.evenwash.logger.wash;
