package etcd

func playReplica() {}
