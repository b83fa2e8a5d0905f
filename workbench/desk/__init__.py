"""What a person does: the case, acts with undo, and questions. No Qt."""
