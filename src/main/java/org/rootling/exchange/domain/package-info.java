@NullMarked
package org.rootling.exchange.domain;

import org.jspecify.annotations.NullMarked;
