@org.jspecify.annotations.NullMarked
package org.rootling.people.web;
