/** Tasks and logs in the database. */
@NullMarked
package org.rootling.work.domain;

import org.jspecify.annotations.NullMarked;
