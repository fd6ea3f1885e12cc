/** Pages, drawings, files and API of the trellis. */
@NullMarked
package org.rootling.trellis.web;

import org.jspecify.annotations.NullMarked;
