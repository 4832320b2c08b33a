"""Money of orders: what is bought for them at the least, what they cost their customers, what is paid."""
