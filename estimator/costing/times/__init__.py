"""What the bench really took, in; standard times with how sure each is, waste and learning curves out. Pure arithmetic."""
