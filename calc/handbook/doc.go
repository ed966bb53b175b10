// Package handbook holds the trade's figures as data, each with its source.
package handbook
