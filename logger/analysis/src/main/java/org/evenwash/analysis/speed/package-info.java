/** Does a bench's displayed speed agree with an independent tachometer? */
package org.evenwash.analysis.speed;
