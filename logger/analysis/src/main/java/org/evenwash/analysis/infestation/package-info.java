/** Mites per 100 bees from one wash: counted or estimated bees, as washed or corrected for recovery. */
package org.evenwash.analysis.infestation;
