/** Pages and API of work. */
@NullMarked
package org.rootling.work.web;

import org.jspecify.annotations.NullMarked;
