package etcd

import (
	"context"
	"errors"
	"fmt"

	"go.etcd.io/etcd/api/v3/v3rpc/rpctypes"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	"linetender/store"
)

var (
	// ErrLarge is returned for a change that the members would not take in one transaction,
	// and that must not be split. Nothing was written.
	ErrLarge = errors.New("more than one transaction of etcd holds, and it must not be split: say less at once, or raise --max-txn-ops and --max-request-bytes of the members and ops and bytes here")

	// ErrAway is returned when not enough members answered in time. A change may have been
	// written all the same; made again, it is not made twice.
	ErrAway = errors.New("the etcd members don't answer: see that most of them run and can be reached")

	// ErrRefused is returned when the members refuse the user.
	ErrRefused = errors.New("the etcd members refuse this user: check the user, its password and its rights to the prefix")
)

// definite reports whether err says that the request changed nothing, for certain,
// and that trying again would not change that.
func definite(err error) bool {
	var e rpctypes.EtcdError
	if errors.As(err, &e) {
		switch e.Code() {
		case codes.Unavailable, codes.DeadlineExceeded, codes.Canceled, codes.Unknown:
			return false
		}
		return !errors.Is(err, rpctypes.ErrTooManyRequests) && !errors.Is(err, rpctypes.ErrNotLeader)
	}
	switch status.Code(err) {
	case codes.ResourceExhausted, codes.InvalidArgument, codes.PermissionDenied, codes.Unimplemented:
		return true
	}
	return false
}

// plain puts the errors of etcd in the store's words, keeping the cause.
func plain(err error) error {
	to := func(sentinel error) error { return fmt.Errorf("%w (%w)", sentinel, err) }
	switch {
	case err == nil:
		return nil
	case errors.Is(err, rpctypes.ErrNoSpace):
		return to(store.ErrFull)
	case errors.Is(err, rpctypes.ErrTooManyOps), errors.Is(err, rpctypes.ErrRequestTooLarge):
		return to(ErrLarge)
	case errors.Is(err, rpctypes.ErrAuthFailed), errors.Is(err, rpctypes.ErrPermissionDenied), errors.Is(err, rpctypes.ErrUserEmpty),
		status.Code(err) == codes.PermissionDenied, status.Code(err) == codes.Unauthenticated:
		return to(ErrRefused)
	case errors.Is(err, context.DeadlineExceeded), status.Code(err) == codes.DeadlineExceeded, status.Code(err) == codes.Unavailable:
		return to(ErrAway)
	}
	var e rpctypes.EtcdError
	if errors.As(err, &e) && e.Code() == codes.Unavailable {
		return to(ErrAway)
	}
	return err
}
