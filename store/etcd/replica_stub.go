package etcd

type Replica struct{ *Store }
