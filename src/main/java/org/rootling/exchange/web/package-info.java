@NullMarked
package org.rootling.exchange.web;

import org.jspecify.annotations.NullMarked;
